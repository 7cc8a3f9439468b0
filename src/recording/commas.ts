import { RecordingError } from './error.ts';
import { commentText } from './split.ts';

/** Rows of whole numbers between commas, twice as many as the header names columns, perhaps behind a time of day. */
export interface CommaNumbers {
  /** Columns that the header names. */
  readonly named: number;
  /** The first row. */
  readonly sample: string;
  /** Whole numbers in a row. */
  readonly numbers: number;
  /** Whether every row has just twice as many cells, so that they can be read in pairs. */
  readonly even: boolean;
}

const wholeNumbers = /^\s*[-+]?\d+(?:,[-+]?\d+)+\s*$/;

/** A time of day, or a date of three numbers. */
const stamp = /\d:\d|\d[-/.]\d{1,2}[-/.]\d/;

/** No stamp is longer; a cell that is longer is not searched. */
const longestStamp = 40;

/** Whole numbers between commas behind one cell that is a date or a time of day. */
function behindStamp(line: string): boolean {
  const end = line.indexOf(',');
  if (end < 0 || end > longestStamp) return false;
  return stamp.test(line.slice(0, end)) && wholeNumbers.test(line.slice(end + 1));
}

/**
 * Looks for numbers with decimal commas that were written between commas: `0,05,20,95`.
 *
 * @param lines some hundred lines of the file, the header among them
 * @returns null where the rows are not of that kind
 */
export function commaNumbers(lines: readonly string[]): CommaNumbers | null {
  const used = lines.filter((line) => line.trim() !== '');
  const plain = used.findIndex((line) => wholeNumbers.test(line));
  const stamped = plain === -1;
  const ofKind = (line: string) => (stamped ? behindStamp(line) : wholeNumbers.test(line));
  const first = stamped ? used.findIndex(behindStamp) : plain;
  const sample = used[first];
  const above = used[first - 1];
  if (sample === undefined || above === undefined) return null;
  const header = commentText(above) ?? above;
  const named = header.split(',').length;
  if (named < 2 || !/[a-z]/i.test(header)) return null;
  const rows = used.slice(first).filter((line) => commentText(line) === null);
  // The last line may be cut off.
  const whole = rows.length > 2 ? rows.slice(0, -1) : rows;
  const counts = whole.map((line) => (ofKind(line) ? line.split(',').length : 0));
  const numbers = stamped ? 2 * (named - 1) : 2 * named;
  const twice = counts.filter((count) => count === (stamped ? 1 + numbers : numbers)).length;
  if (twice <= 0.5 * counts.length) return null;
  return { named, sample, numbers, even: !stamped && twice === counts.length };
}

/** Refuses to guess which commas part the cells. */
export function refuseCommas({ named, sample, numbers, even }: CommaNumbers, name: string): never {
  throw new RecordingError(
    'numbers-ambiguous',
    name,
    null,
    `The header names ${named} columns, but rows such as "${sample.trim().slice(0, 60)}" have ${numbers} whole numbers between commas: numbers with decimal commas between commas cannot be told apart.`,
    even
      ? 'Let the logger write tabs or semicolons between the columns; or say --decimal , to read every two of them as one number, or --decimal . if they are whole numbers.'
      : 'Let the logger write tabs or semicolons between the columns. They cannot be read two by two, as a date stands in front or not every row has the same count; if they are whole numbers, say --decimal . for that.',
  );
}
