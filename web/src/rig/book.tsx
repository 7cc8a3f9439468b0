/** All checks that were ever made, the latest first, and taking one back. */
import { useState } from 'react';
import { checkedThing } from '../../../src/rig/index.ts';
import type { RigCheckView, RigView } from '../../../src/server/contract/index.ts';
import { useProjector } from '../frame/projector.ts';
import { whenWords } from '../recording/words.ts';
import { TakeBack } from './take-back.tsx';

/** Shown before somebody asks for more. */
const shownFirst = 20;

export function Book({ view }: { readonly view: RigView }) {
  const { projector } = useProjector();
  const [all, setAll] = useState(false);
  const [taking, setTaking] = useState<string | null>(null);
  const back = new Map(view.withdrawn.map((one) => [one.id, one]));
  const checks = view.checks.toReversed();
  const shown = all ? checks : checks.slice(0, shownFirst);
  return (
    <section className="flow" aria-labelledby="rig-book">
      <h2 id="rig-book">Checks that were made</h2>
      <p className="quiet small">
        Kept in rig/checks.json in the folder. Nothing is ever taken out of it; what was typed wrongly can be
        taken back and then does not count.
      </p>
      {checks.length === 0 && <p>None yet.</p>}
      <ol className="plain flow rig-book">
        {shown.map((check) => {
          const withdrawn = back.get(check.id);
          return (
            <li key={check.id}>
              <p className={withdrawn === undefined ? undefined : 'quiet'}>
                {withdrawn === undefined ? line(check) : <s>{line(check)}</s>}
                {check.note !== '' && !projector && `. ${check.note}`}
              </p>
              <p className="quiet small">
                {projector ? '' : `${check.who}, `}
                <time dateTime={check.at}>{whenWords(check.at)}</time>
                {withdrawn !== undefined &&
                  `. Taken back${projector ? '' : ` by ${withdrawn.who}: ${withdrawn.why}`}`}{' '}
                {withdrawn === undefined && taking !== check.id && !projector && (
                  <button
                    type="button"
                    className="word"
                    aria-label={`take back: ${line(check)}`}
                    onClick={() => setTaking(check.id)}
                  >
                    take back
                  </button>
                )}
              </p>
              {taking === check.id && !projector && (
                <TakeBack id={check.id} line={line(check)} leave={() => setTaking(null)} />
              )}
            </li>
          );
        })}
      </ol>
      {checks.length > shown.length && (
        <p>
          <button type="button" className="word" onClick={() => setAll(true)}>
            all {checks.length} checks
          </button>
        </p>
      )}
    </section>
  );
}

function line({ bench, kind, subject, written }: RigCheckView): string {
  return `${bench === null ? '' : `${bench}, `}${checkedThing(kind, subject)}: ${written}`;
}
