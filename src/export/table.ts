import { type Cell, type Column, columnsOf } from './columns.ts';
import type { ResultsInput } from './types.ts';

/** Results by columns and rows, ready to be written. */
export interface ResultsTable {
  readonly columns: readonly Column[];
  /** One a trial, a cell a column. */
  readonly rows: readonly (readonly Cell[])[];
}

/** Results as a table: text in one line without characters that no file should carry, numbers finite or absent. */
export function resultsTable(input: ResultsInput): ResultsTable {
  const columns = columnsOf(input);
  return {
    columns,
    rows: input.trials.map((trial) => columns.map((column) => plain(column.of(trial, input)))),
  };
}

function plain(cell: Cell): Cell {
  if (typeof cell === 'number') return Number.isFinite(cell) ? cell : null;
  return typeof cell === 'string' ? plainText(cell) : cell;
}

/** What no line of text should hold: control characters, halves of surrogate pairs, what XML forbids. */
const unprintable = /[\p{Cc}\p{Cs}\uFFFE\uFFFF]/gu;

/**
 * Text in one line: ends of line and tabs become blanks, marks of byte order, which some readers drop, are left out, and
 * what cannot be printed becomes U+FFFD.
 */
export function plainText(text: string): string {
  return text
    .replaceAll('\uFEFF', '')
    .replaceAll(/[\t\n\v\f\r\u2028\u2029]+/g, ' ')
    .replaceAll(unprintable, '\uFFFD');
}
