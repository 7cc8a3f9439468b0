/** How the rigs stand by the checks that were made of them, a form for the next check, and all that were ever made. */
import './place.css';
import { useRef, useState } from 'react';
import type { RigView } from '../../../src/server/contract/index.ts';
import { useRig } from '../api/queries.ts';
import { useProjector } from '../frame/projector.ts';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { Waiting } from '../frame/waiting.tsx';
import { Again } from './again.tsx';
import { Book } from './book.tsx';
import { type Draft, draftFor, firstDraft } from './draft.ts';
import { Enter } from './enter.tsx';
import { OverTerms } from './over-terms.tsx';
import { OwnCorrelation } from './own-correlation.tsx';
import { References } from './references.tsx';
import { summaryWords, toDoAgain } from './standing.ts';
import { Benches, Bodies } from './tables.tsx';

export default function RigPlace() {
  useTitle('rig');
  const rig = useRig();
  return (
    <div className="rig">
      <h1>The rigs</h1>
      {rig.error !== null && <Trouble error={rig.error} again={() => void rig.refetch()} />}
      {rig.data === undefined ? rig.error === null && <Waiting what="the rigs" /> : <Rigs view={rig.data} />}
    </div>
  );
}

function Rigs({ view }: { readonly view: RigView }) {
  const [draft, setDraft] = useState<Draft>(() => firstDraft(view));
  const { projector } = useProjector();
  const value = useRef<HTMLInputElement>(null);
  const again = toDoAgain(view.standings);
  return (
    <>
      <div className="spread">
        <div className="wide flow">
          <p>
            <span className="strong">{summaryWords(view.standings)}</span> A check that failed or is too old
            is said with every later recording of that bench, body or flow. It changes no time constant.
          </p>
          <Benches view={view} />
          <Bodies view={view} />
        </div>
        <aside className="margin flow" aria-label="Checks to make again">
          <Again
            standings={again}
            choose={
              projector
                ? null
                : (standing) => {
                    setDraft(draftFor(standing));
                    value.current?.focus();
                  }
            }
          />
        </aside>
      </div>
      {projector ? (
        <p className="quiet">Checks are entered and taken back outside of the projector view.</p>
      ) : (
        <Enter view={view} draft={draft} change={setDraft} value={value} />
      )}
      <OverTerms view={view} />
      <References view={view} />
      <OwnCorrelation />
      <Book view={view} />
    </>
  );
}
