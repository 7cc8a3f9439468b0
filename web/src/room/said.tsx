import { Fragment } from 'react';
import { ProblemError } from '../api/calls.ts';
import { pieces } from '../frame/sentence-pieces.ts';

/** A sentence that was written for any page or terminal, set for this one. */
export function Said({ children }: { readonly children: string }) {
  return pieces(children).map(({ text, raised }, i) => {
    const key = `${i} ${text}`;
    return raised ? <sup key={key}>{text}</sup> : <Fragment key={key}>{text}</Fragment>;
  });
}

/** What could not be done, and what to do about it, at the place where it was asked for. */
export function Hindrance({ error, again }: { readonly error: unknown; readonly again?: () => void }) {
  const { title, detail, mend } = wordsOf(error);
  return (
    <div className="trouble" role="alert">
      <p className="strong">{title}</p>
      <p>
        <Said>{detail}</Said>
      </p>
      <p>
        <Said>{mend}</Said>
      </p>
      {again !== undefined && (
        <button type="button" className="word" onClick={again}>
          try again
        </button>
      )}
    </div>
  );
}

function wordsOf(error: unknown) {
  if (!(error instanceof ProblemError)) {
    return {
      title: 'The page could not do this',
      detail: error instanceof Error ? error.message : String(error),
      mend: 'Reload the page; if it happens again, tell those who run the session.',
    };
  }
  const { title, detail, mend, status } = error.problem;
  if (status !== 0) return { title, detail, mend };
  return {
    title: 'The server does not answer',
    detail: 'This device has lost the server. Nothing that was handed in is lost.',
    mend: 'See whether the device is on the network of the laboratory, and try again.',
  };
}
