import { ProblemError } from '../api/calls.ts';
import { Said } from '../frame/said.tsx';
import { TroubleBox, type TroubleWords, troubleWords } from '../frame/trouble-box.tsx';

/** What could not be done, and what to do about it, at the place where it was asked for. */
export function Hindrance({ error, again }: { readonly error: unknown; readonly again?: () => void }) {
  return <TroubleBox words={wordsOf(error)} set={(sentence) => <Said>{sentence}</Said>} again={again} />;
}

function wordsOf(error: unknown): TroubleWords {
  if (error instanceof ProblemError && error.problem.status === 0) {
    return {
      title: 'The server does not answer',
      detail: 'This device has lost the server. Nothing that was handed in is lost.',
      mend: 'See whether the device is on the network of the laboratory, and try again.',
    };
  }
  return troubleWords(error, 'Reload the page; if it happens again, tell those who run the session.');
}
