import { Fragment } from 'react';
import { Link } from 'wouter';
import type { ComparisonView } from '../../../src/server/contract/index.ts';
import { inAddress } from '../api/calls.ts';
import { useProjector } from '../frame/projector.ts';
import { Sentence } from '../frame/sentence.tsx';
import { useNames } from '../frame/use-names.ts';
import { type ConditionView, notedAbout } from './compared.ts';

/** Most recordings that are named behind one remark before the rest is only counted. */
const most = 12;

/** What is to be kept in mind about recordings that count: their own cautions, and checks of their rigs. */
export function Noted({
  noted,
  conditions,
}: {
  readonly noted: ComparisonView['noted'];
  /** Those that are shown. */
  readonly conditions: readonly ConditionView[];
}) {
  const names = useNames();
  const { projector } = useProjector();
  const shown = notedAbout(noted, conditions);
  if (shown.length === 0) return null;
  return (
    <section className="part" aria-labelledby="noted">
      <h2 id="noted">To keep in mind about recordings that count</h2>
      <dl className="compare-words">
        {shown.map(({ code, severity, message, paths }) => (
          <div key={`${code} ${message}`}>
            <dt>{severity}</dt>
            <dd>
              <p>
                <Sentence>{message}</Sentence>
              </p>
              <p className="small quiet compare-runs">
                {paths.slice(0, most).map((path, i) => (
                  <Fragment key={path}>
                    {i > 0 && ', '}
                    <Link href={`/recordings/${inAddress(path)}`}>
                      {projector ? names.at(path) : path.replace(/^recordings\//, '')}
                    </Link>
                  </Fragment>
                ))}
                {paths.length > most && ` and ${paths.length - most} more`}
              </p>
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
