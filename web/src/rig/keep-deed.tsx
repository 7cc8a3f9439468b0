/** The end of a form about a rig: the button that keeps it, what was kept, or what was in the way. */
import { Trouble } from '../frame/trouble.tsx';

export function KeepDeed({
  what,
  ready,
  keep,
  kept,
}: {
  readonly what: string;
  readonly ready: boolean;
  readonly keep: { readonly isPending: boolean; readonly error: unknown };
  readonly kept: string;
}) {
  return (
    <>
      <p>
        <button type="submit" className="deed" disabled={!ready || keep.isPending}>
          keep the {what}
        </button>
      </p>
      <p role="status" className="strong">
        {kept}
      </p>
      {keep.error !== null && <Trouble error={keep.error} />}
    </>
  );
}
