/** What persons have decided about the recording, oldest first, and taking it back. */
import { useState } from 'react';
import type { Decision } from '../../../src/server/contract/index.ts';
import { useNames } from '../frame/use-names.ts';
import { Decide } from './decide.tsx';
import { Said } from './said.tsx';
import { decisionWords, whenWords } from './words.ts';

export function History({
  path,
  decisions,
  projector,
}: {
  readonly path: string;
  readonly decisions: readonly Decision[];
  readonly projector: boolean;
}) {
  const names = useNames();
  const [undoing, setUndoing] = useState<string | null>(null);
  /** The decision that was not taken back after all: its word has the focus again. */
  const [left, setLeft] = useState<string | null>(null);
  const [said, setSaid] = useState<{ readonly words: string } | null>(null);
  return (
    <section className="flow" aria-labelledby="decisions">
      <h2 id="decisions">Decisions</h2>
      <p className="quiet small">
        Kept beside the recording, in the folder’s decisions. The recording itself is never changed, and every
        decision can be taken back.
      </p>
      {decisions.length === 0 ? (
        <p>None: the result is by the marks as they were found.</p>
      ) : (
        <ol className="decisions">
          {decisions.map((decision) => (
            <li key={decision.id}>
              <p>
                <span className={decision.applies ? 'strong' : undefined}>
                  {decisionWords(decision, decisions)}
                </span>
                {decision.why !== '' && `: ${names.said(decision.why)}`}
              </p>
              <p className="quiet small">
                {projector ? '' : `${decision.who}, `}
                <time dateTime={decision.at}>{whenWords(decision.at)}</time>
                {decision.kind === 'undo'
                  ? ''
                  : decision.applies
                    ? '. It counts now.'
                    : '. It no longer counts.'}{' '}
                {decision.applies && decision.kind !== 'undo' && undoing !== decision.id && (
                  <button
                    type="button"
                    className="word"
                    onClick={() => setUndoing(decision.id)}
                    // biome-ignore lint/a11y/noAutofocus: the focus comes back from the form that this word opened
                    autoFocus={left === decision.id}
                    onFocus={() => setLeft(null)}
                  >
                    take back
                  </button>
                )}
              </p>
              {undoing === decision.id && (
                <Decide
                  path={path}
                  title="Take this decision back"
                  deed="take back"
                  request={(who, why) => ({ kind: 'undo', undoes: decision.id, who, why })}
                  whyNeeded={false}
                  example="the baseline was fine after all"
                  done={() => {
                    setUndoing(null);
                    setSaid({ words: 'Taken back. The result above follows what counts now.' });
                  }}
                  leave={() => {
                    setLeft(undoing);
                    setUndoing(null);
                  }}
                />
              )}
            </li>
          ))}
        </ol>
      )}
      {said !== null && undoing === null && <Said said={said} />}
    </section>
  );
}
