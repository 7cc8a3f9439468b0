/**
 * What could not be done, and what to do about it, at the place where it was asked for.
 *
 *   <Trouble error={query.error} again={() => query.refetch()} />
 *   <Trouble error={save.error} />          without a 'try again' where the person presses again anyway
 */
import { ProblemError } from '../api/calls.ts';
import { Sentence } from './sentence.tsx';
import { TroubleBox, type TroubleWords, troubleWords } from './trouble-box.tsx';

export function Trouble({
  error,
  again,
}: {
  readonly error: unknown;
  readonly again?: (() => void) | undefined;
}) {
  const words = troubleWords(error, 'Reload the page; if it happens again, report the sentence above.');
  const faults = error instanceof ProblemError ? (error.problem.faults ?? []) : [];
  return (
    <TroubleBox words={words} set={asSentence} again={again}>
      {faults.length > 0 && (
        <ul>
          {faults.map((fault) => (
            <li key={`${fault.line} ${fault.place} ${fault.message}`}>
              line {fault.line}, {fault.place}: <Sentence>{fault.message}</Sentence>
            </li>
          ))}
        </ul>
      )}
    </TroubleBox>
  );
}

/** The same in words of one's own: `<TroubleSaid title="…" detail={trouble.message} mend={trouble.mend} />`. */
export function TroubleSaid(words: TroubleWords) {
  return <TroubleBox words={words} set={asSentence} />;
}

function asSentence(sentence: string) {
  return <Sentence>{sentence}</Sentence>;
}
