/** Sentences in the pieces that the page sets, as pure functions; `sentence.tsx` sets them. */

export interface Piece {
  readonly text: string;
  /** Whether it is an exponent. */
  readonly raised: boolean;
}

/** A sentence in pieces: 'D^(1.2 ± 0.1), by' is 'D', raised '1.2 ± 0.1', ', by'. */
export function pieces(sentence: string): readonly Piece[] {
  return trueMinus(sentence)
    .split(/\^\(([^()]*)\)/)
    .map((text, i) => ({ text, raised: i % 2 === 1 }))
    .filter(({ text }) => text !== '');
}

/** A text with minus signs for the hyphens of negative numbers. */
export function trueMinus(text: string): string {
  return text.replace(/(^|[\s([=<>≤≥±])-(?=\d)/g, '$1−');
}
