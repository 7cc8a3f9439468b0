import type { Summary } from '../../../src/server/contract/index.ts';
import { isStray } from './series.ts';
import { idealPath, stripPath, stripSize } from './strip-path.ts';

/** How straight ln of a recording's error fraction falls, beside the line of slope −1. */
export function Strip({ recording }: { readonly recording: Summary }) {
  const trace = recording.strip === null ? null : stripPath(recording.strip);
  if (trace === null) return null;
  const stray = isStray(recording);
  return (
    <svg
      className="strip"
      viewBox={`0 0 ${stripSize.width} ${stripSize.height}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <path className="strip-ideal" d={idealPath} />
      <path className={stray ? 'strip-trace strip-stray' : 'strip-trace'} d={trace} />
    </svg>
  );
}
