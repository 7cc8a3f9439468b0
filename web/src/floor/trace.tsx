import { type DrawnTrial, tracePicture, traceSize } from './trace-path.ts';

/** The trial so far, small: the temperature against time, and a dashed line where the heat went off. */
export function SmallTrace({ trial }: { readonly trial: DrawnTrial }) {
  const picture = tracePicture(trial);
  if (picture === null) return null;
  const { width, height } = traceSize;
  return (
    <svg
      className="tile-trace"
      viewBox={`0 0 ${width} ${height}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      {picture.heatOff !== null && (
        <line className="tile-trace-off" x1={picture.heatOff} x2={picture.heatOff} y1={0} y2={height} />
      )}
      <path className="tile-trace-line" d={picture.path} />
    </svg>
  );
}
