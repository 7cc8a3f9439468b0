/** The box of what could not be done, as all pages show it: their own words for it, and their own way to set them. */
import type { ReactNode } from 'react';
import { ProblemError } from '../api/calls.ts';

/** What could not be done, and what to do about it. */
export interface TroubleWords {
  readonly title: string;
  readonly detail: string;
  readonly mend: string;
}

/** The words of an error. @param otherwise what to do where it is one of the page itself */
export function troubleWords(error: unknown, otherwise: string): TroubleWords {
  if (error instanceof ProblemError) return error.problem;
  return {
    title: 'The page could not do this',
    detail: error instanceof Error ? error.message : String(error),
    mend: otherwise,
  };
}

/** @param set how a sentence is set on this page */
export function TroubleBox({
  words,
  set,
  again,
  children,
}: {
  readonly words: TroubleWords;
  readonly set: (sentence: string) => ReactNode;
  readonly again?: (() => void) | undefined;
  readonly children?: ReactNode;
}) {
  return (
    <div className="trouble" role="alert">
      <p className="strong">{words.title}</p>
      <p>{set(words.detail)}</p>
      {children}
      <p>{set(words.mend)}</p>
      {again !== undefined && (
        <button type="button" className="word" onClick={again}>
          try again
        </button>
      )}
    </div>
  );
}
