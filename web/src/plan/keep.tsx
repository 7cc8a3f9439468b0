import { useState } from 'react';
import type { FileFault } from '../../../src/experiment/index.ts';
import type { ChangeView, ExperimentView } from '../../../src/server/contract/index.ts';
import { ProblemError } from '../api/calls.ts';
import { useChange, useSave } from '../api/queries.ts';
import { Trouble } from '../frame/trouble.tsx';
import { changeWords } from './change-words.ts';
import { shownDifference } from './difference.ts';
import { changesOf, type Edits } from './edits.ts';
import type { Outcome } from './outcome.ts';

/** What was changed and not kept yet, always in sight; keeping it shows the difference first. */
export function Keep({
  view,
  edits,
  fault,
  outcome,
  before,
  takeBack,
  readAgain,
}: {
  readonly view: ExperimentView;
  readonly edits: Edits;
  /** The first of what was typed and cannot be used. */
  readonly fault: FileFault | undefined;
  readonly outcome: Outcome | null;
  readonly before: Outcome | null;
  readonly takeBack: () => void;
  readonly readAgain: () => void;
}) {
  const change = useChange();
  const save = useSave();
  /** Of which edits the difference is: it must not outlive them. */
  const [asked, setAsked] = useState<Edits | null>(null);
  const shown = change.data !== undefined && asked === edits ? change.data : null;
  const count = Object.keys(edits).length;
  const error = save.error ?? (asked === edits ? change.error : null);
  const conflict = error instanceof ProblemError && error.problem.status === 409;

  const ask = () => {
    save.reset();
    setAsked(edits);
    change.mutate({ hash: view.hash, changes: changesOf(edits) });
  };
  const write = (text: string) => {
    save.mutate({ hash: view.hash, text }, { onSuccess: takeBack });
  };
  return (
    <section className="plan-keep" aria-label="changes that are not kept yet">
      {error !== null && <Trouble error={error} />}
      {conflict && (
        <p>
          The file on disk was changed meanwhile, in an editor perhaps. Your changes stay here:{' '}
          <button
            type="button"
            className="word"
            onClick={() => {
              save.reset();
              change.reset();
              readAgain();
            }}
          >
            read the file again
          </button>
          , look at the plan, and keep them then.
        </p>
      )}
      {shown !== null && <Difference shown={shown} />}
      <div className="plan-keep-line">
        <p className="plan-keep-words" aria-live="polite">
          <span className="strong">{count === 1 ? 'One change' : `${count} changes`}, not kept.</span>{' '}
          {fault === undefined ? changeWords(outcome, before) : `${fault.place}: ${fault.message}`}
        </p>
        <div className="words">
          {shown === null ? (
            <button
              type="button"
              className="deed"
              disabled={fault !== undefined || change.isPending}
              onClick={ask}
            >
              keep in experiment.yaml
            </button>
          ) : (
            <button
              type="button"
              className="deed"
              disabled={shown.faults.length > 0 || save.isPending}
              onClick={() => write(shown.text)}
            >
              write these lines
            </button>
          )}
          {shown !== null && (
            <button type="button" className="word" onClick={() => setAsked(null)}>
              not now
            </button>
          )}
          <button type="button" className="word" onClick={takeBack}>
            take {count === 1 ? 'it' : 'all'} back
          </button>
        </div>
      </div>
    </section>
  );
}

/** The lines of the file that would change, with a little around them. */
function Difference({ shown }: { readonly shown: ChangeView }) {
  const pieces = shownDifference(shown.difference);
  return (
    <div className="plan-difference">
      <p className="small quiet">experiment.yaml, lines that change: − goes, + comes</p>
      <section
        className="scroll"
        aria-label="lines that change in experiment.yaml"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
        tabIndex={0}
      >
        <table>
          <tbody>
            {pieces.map((line) =>
              line.kind === 'gap' ? (
                <tr key={`gap ${line.line}`} className="quiet">
                  <td />
                  <td />
                  <td>…</td>
                </tr>
              ) : (
                <tr key={`${line.kind} ${line.line}`} className={`plan-line-${line.kind}`}>
                  <td className="number quiet">{line.line}</td>
                  <td>
                    {line.kind === 'gone' ? '−' : line.kind === 'new' ? '+' : ''}
                    {line.kind !== 'same' && (
                      <span className="hidden-text">{line.kind === 'gone' ? ' goes' : ' comes'}</span>
                    )}
                  </td>
                  <td>
                    <code>{line.text}</code>
                  </td>
                </tr>
              ),
            )}
          </tbody>
        </table>
      </section>
      {shown.faults.length > 0 && (
        <ul>
          {shown.faults.map(({ line, place, message }) => (
            <li key={`${line} ${place} ${message}`}>
              line {line}, {place}: {message}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
