import { Link } from 'wouter';
import type { ComparisonView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { useProjector } from '../frame/projector.ts';
import { Sentence } from '../frame/sentence.tsx';
import { useNames } from '../frame/use-names.ts';

/** Most recordings that are named before the rest is only counted. */
const most = 100;

/** Recordings that do not count, and why. */
export function LeftOut({ left }: { readonly left: ComparisonView['left'] }) {
  const names = useNames();
  const { projector } = useProjector();
  if (left.length === 0) return null;
  const count = `${left.length} ${left.length === 1 ? 'recording does' : 'recordings do'} not count`;
  return (
    <section className="part" aria-labelledby="left-out">
      <h2 id="left-out">{count}</h2>
      <dl className="compare-words">
        {left.slice(0, most).map(({ path, why }) => (
          <div key={path}>
            <dt>
              <Link href={`/recordings/${inAddress(path)}`}>
                {projector ? names.at(path) : path.replace(/^recordings\//, '')}
              </Link>
            </dt>
            <dd>
              <Sentence>{why}</Sentence>
            </dd>
          </div>
        ))}
      </dl>
      {left.length > most && <p>and {left.length - most} more</p>}
    </section>
  );
}
