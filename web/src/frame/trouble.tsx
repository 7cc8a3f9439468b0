/**
 * What could not be done, and what to do about it, at the place where it was asked for.
 *
 *   <Trouble error={query.error} again={() => query.refetch()} />
 *   <Trouble error={save.error} />          without a 'try again' where the person presses again anyway
 */
import { ProblemError } from '../api/calls.ts';
import { Sentence } from './sentence.tsx';

export function Trouble({
  error,
  again,
}: {
  readonly error: unknown;
  readonly again?: (() => void) | undefined;
}) {
  const { title, detail, mend, faults } = said(error);
  return (
    <div className="trouble" role="alert">
      <p className="strong">{title}</p>
      <p>
        <Sentence>{detail}</Sentence>
      </p>
      {faults.length > 0 && (
        <ul>
          {faults.map((fault) => (
            <li key={`${fault.line} ${fault.place} ${fault.message}`}>
              line {fault.line}, {fault.place}: <Sentence>{fault.message}</Sentence>
            </li>
          ))}
        </ul>
      )}
      <p>
        <Sentence>{mend}</Sentence>
      </p>
      {again !== undefined && (
        <button type="button" className="word" onClick={again}>
          try again
        </button>
      )}
    </div>
  );
}

function said(error: unknown) {
  if (error instanceof ProblemError) {
    const { title, detail, mend, faults = [] } = error.problem;
    return { title, detail, mend, faults };
  }
  return {
    title: 'The page could not do this',
    detail: error instanceof Error ? error.message : String(error),
    mend: 'Reload the page; if it happens again, report the sentence above.',
    faults: [],
  };
}
