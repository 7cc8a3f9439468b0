/**
 * What is being waited for, and how far it is where that is known.
 *
 *   <Waiting what="the recording" />
 *   <Waiting what="recordings" done={12} total={60} />   12 of 60 recordings, with a line that fills
 *
 * It shows after a moment only, so that quick answers do not flicker.
 */
export function Waiting({
  what,
  done,
  total,
}: {
  readonly what: string;
  readonly done?: number;
  readonly total?: number;
}) {
  if (done === undefined || total === undefined || total === 0) {
    return (
      <p className="waiting quiet" role="status">
        Opening {what} …
      </p>
    );
  }
  return (
    <div className="waiting-progress" role="status">
      <span className="quiet">
        {done} of {total} {what}
      </span>
      <progress value={done} max={total} aria-label={`${done} of ${total} ${what}`} />
    </div>
  );
}
