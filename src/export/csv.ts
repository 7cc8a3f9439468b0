import type { Cell } from './columns.ts';

/** Cells by named columns. */
export interface CellTable {
  readonly columns: readonly { readonly name: string }[];
  readonly rows: readonly (readonly Cell[])[];
}

/**
 * What a spreadsheet takes for the start of a formula, also in full width, behind blanks, letters without width and
 * quotation marks, and behind a semicolon, at which many countries' spreadsheets begin a new cell (common practice:
 * OWASP, CSV Injection).
 */
const formula = /(^|;)(?=[\s"\u200B-\u200F\u2060]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20|%])/gu;

/**
 * A table as comma-separated values after RFC 4180: a header, ends of line CR LF, UTF-8 without a byte order mark.
 * Text that a spreadsheet would take for a formula has an apostrophe in front.
 */
export function csvText({ columns, rows }: CellTable): string {
  const lines = [columns.map(({ name }) => name), ...rows.map((row) => row.map(csvCell))];
  return lines.map((line) => `${line.join(',')}\r\n`).join('');
}

function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell !== 'string') return String(cell);
  const text = cell.replaceAll(formula, "$1'");
  return /[",\r\n]/.test(text) || text.trim() !== text ? `"${text.replaceAll('"', '""')}"` : text;
}
