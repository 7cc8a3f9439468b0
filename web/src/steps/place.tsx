/** One recording worked through: every step of its analysis with its own numbers, to be shown and to be checked. */
import './place.css';
import { useState } from 'react';
import { Link } from 'wouter';
import { inAddress } from '../api/calls.ts';
import { useRecordings, useSteps } from '../api/queries.ts';
import { useTitle } from '../frame/title.ts';
import { Trouble } from '../frame/trouble.tsx';
import { useNames } from '../frame/use-names.ts';
import { Waiting } from '../frame/waiting.tsx';
import { Step } from './step.tsx';

/** @param path of the recording, below the folder's recordings */
export default function StepsPlace({ path }: { readonly path: string }) {
  const names = useNames();
  const { data: list } = useRecordings();
  const { data, error, refetch } = useSteps(path);
  const [asText, setAsText] = useState(false);
  const summary = list?.recordings.find((one) => one.path === path);
  const name = summary === undefined ? names.at(path) : names.of(summary.place, path);
  useTitle(`${name}, step by step`);

  return (
    <div className="steps">
      <header className="flow steps-head">
        <h1>{name}, step by step</h1>
        <p className="words small not-on-paper">
          <Link href={`/recordings/${inAddress(path)}`}>back to the recording</Link>
          <button type="button" className="word" aria-pressed={asText} onClick={() => setAsText(!asText)}>
            {asText ? 'without plain text' : 'formulas as plain text'}
          </button>
          <button type="button" className="word" onClick={() => window.print()}>
            print
          </button>
        </p>
      </header>
      {error !== null && data === undefined && <Trouble error={error} again={() => void refetch()} />}
      {data === undefined && error === null && <Waiting what="the steps" />}
      {data !== undefined && data.steps.length > 0 && (
        <>
          <p className="steps-lead">
            Each step shows its formula, this recording’s numbers in it, and where the formula comes from. The
            numbers are rounded for reading, finely enough to do the sums again by hand.
          </p>
          <nav className="steps-list small not-on-paper" aria-label="Steps">
            <ol className="plain words">
              {data.steps.map(({ id, title }, i) => (
                <li key={id}>
                  <a href={`#step-${id}`}>
                    {i + 1} {title}
                  </a>
                </li>
              ))}
            </ol>
          </nav>
          {data.steps.map((step, i) => (
            <Step key={step.id} step={step} number={i + 1} asText={asText} />
          ))}
        </>
      )}
      {data !== undefined && data.steps.length === 0 && (
        <p>There is nothing to work through: the recording could not be analyzed.</p>
      )}
    </div>
  );
}
