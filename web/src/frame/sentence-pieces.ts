/** Sentences that were written for any page or terminal, as this page sets them; pure functions, set by `said.tsx`. */
import { trueMinus } from '../../../src/quantity/index.ts';

export interface Piece {
  readonly text: string;
  /** Whether it is an exponent. */
  readonly raised: boolean;
}

/** A sentence in pieces: 'D^(1.2 ± 0.1), by' is 'D', raised '1.2 ± 0.1', ', by'. */
export function pieces(sentence: string): readonly Piece[] {
  return pageWords(sentence)
    .split(/\^\(([^()]*)\)/)
    .map((text, i) => ({ text, raised: i % 2 === 1 }))
    .filter(({ text }) => text !== '');
}

/** Fields of the page by the options of the command line. */
const fields: Readonly<Record<string, string>> = {
  channel: 'channel',
  unit: 'unit',
  rate: 'rate in Hz',
  delimiter: 'columns parted by',
  decimal: 'decimal mark',
  thousands: 'thousands mark',
  encoding: 'encoding',
  'time-column': 'column of the time',
  'time-unit': 'unit of the time',
  part: 'part of the file',
  heating: 'heating',
  junction: 'column of the junction',
};

/** What the page does in another way than by a field of the same meaning. */
const elsewhere: readonly (readonly [RegExp, string])[] = [
  [/give the ambient of the jet with --ambient/g, 'mark a stretch in the jet without heat as baseline'],
  [/^Give the ambient as this channel shows it, or leave --ambient out and let/, 'Let'],
  [/^Leave --heating out/, 'Take back which heating counts'],
];

/** A text in the words of the page: fields for options of the command line, minus signs for the hyphens of numbers. */
export function pageWords(text: string): string {
  const own = elsewhere.reduce((said, [theirs, ours]) => said.replace(theirs, ours), text);
  const named = own.replace(/--([a-z]+(?:-[a-z]+)?)/g, (whole, option: string) => {
    const field = fields[option];
    return field === undefined ? whole : `“${field}”`;
  });
  return trueMinus(named);
}
