/** What failed or is too old, each with its mend, in the margin. */
import { rigKind } from '../../../src/rig/index.ts';
import type { RigStandingView } from '../../../src/server/contract/index.ts';
import { stateWords } from './standing.ts';

export function Again({
  standings,
  choose,
}: {
  readonly standings: readonly RigStandingView[];
  /** Null where nothing can be entered. */
  readonly choose: ((standing: RigStandingView) => void) | null;
}) {
  if (standings.length === 0)
    return <p className="quiet">Nothing that was checked has to be checked again.</p>;
  const care = [...new Set(standings.map(({ kind }) => rigKind(kind).care))];
  return (
    <>
      <ul className="plain rig-again">
        {standings.map((standing) => (
          <li
            key={JSON.stringify([standing.kind, standing.bench, standing.subject])}
            className={standing.state === 'outside' ? 'flow rig-outside' : 'flow'}
          >
            <p>
              <span className="strong">{stateWords[standing.state]}</span>. {standing.message}
            </p>
            <p>{standing.mend}</p>
            {choose !== null && (
              <p>
                <button type="button" className="word" onClick={() => choose(standing)}>
                  enter a new check
                </button>
              </p>
            )}
          </li>
        ))}
      </ul>
      <p className="strong">Take care</p>
      {care.map((one) => (
        <p key={one}>{one}</p>
      ))}
      <p>Local rules come first.</p>
    </>
  );
}
