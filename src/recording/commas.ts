import { RecordingError } from './error.ts';
import { commentText } from './split.ts';

/** Rows of whole numbers between commas, twice as many as the header names columns. */
export interface CommaNumbers {
  /** Columns that the header names. */
  readonly named: number;
  /** The first row. */
  readonly sample: string;
  /** Whether every row has just twice as many cells, so that they can be read in pairs. */
  readonly even: boolean;
}

const wholeNumbers = /^\s*[-+]?\d+(?:,[-+]?\d+)+\s*$/;

/**
 * Looks for numbers with decimal commas that were written between commas: `0,05,20,95`.
 *
 * @param lines some hundred lines of the file, the header among them
 * @returns null where the rows are not of that kind
 */
export function commaNumbers(lines: readonly string[]): CommaNumbers | null {
  const used = lines.filter((line) => line.trim() !== '');
  const first = used.findIndex((line) => wholeNumbers.test(line));
  const sample = used[first];
  const above = used[first - 1];
  if (sample === undefined || above === undefined) return null;
  const header = commentText(above) ?? above;
  const named = header.split(',').length;
  if (named < 2 || !/[a-z]/i.test(header)) return null;
  const rows = used.slice(first).filter((line) => commentText(line) === null);
  // The last line may be cut off.
  const whole = rows.length > 2 ? rows.slice(0, -1) : rows;
  const counts = whole.map((line) => (wholeNumbers.test(line) ? line.split(',').length : 0));
  const twice = counts.filter((count) => count === 2 * named).length;
  if (twice <= 0.5 * counts.length) return null;
  return { named, sample, even: twice === counts.length };
}

/** Refuses to guess which commas part the cells. */
export function refuseCommas({ named, sample, even }: CommaNumbers, name: string): never {
  throw new RecordingError(
    'numbers-ambiguous',
    name,
    null,
    `The header names ${named} columns, but rows such as "${sample.trim().slice(0, 60)}" have ${2 * named} whole numbers between commas: numbers with decimal commas between commas cannot be told apart.`,
    even
      ? 'Let the logger write tabs or semicolons between the columns; or say --decimal , to read every two of them as one number, or --decimal . if they are whole numbers.'
      : 'Let the logger write tabs or semicolons between the columns. Not every row has the same count, so they cannot be read two by two; if they are whole numbers, say --decimal . for that.',
  );
}
