import { Link } from 'wouter';
import type { ComparisonView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';

/** Most recordings that are named before the rest is only counted. */
const most = 100;

/** Recordings that do not count, and why. Their paths name groups, so that a class sees only how many there are. */
export function LeftOut({
  left,
  projector,
}: {
  readonly left: ComparisonView['left'];
  readonly projector: boolean;
}) {
  if (left.length === 0) return null;
  const count = `${left.length} ${left.length === 1 ? 'recording does' : 'recordings do'} not count`;
  return (
    <section className="part" aria-labelledby="left-out">
      <h2 id="left-out">{count}</h2>
      {projector ? (
        <p className="quiet">Which, and why, is said outside of the projector view.</p>
      ) : (
        <dl className="compare-words">
          {left.slice(0, most).map(({ path, why }) => (
            <div key={path}>
              <dt>
                <Link href={`/recordings/${inAddress(path)}`}>{path.replace(/^recordings\//, '')}</Link>
              </dt>
              <dd>{why}</dd>
            </div>
          ))}
        </dl>
      )}
      {left.length > most && !projector && <p>and {left.length - most} more</p>}
    </section>
  );
}
