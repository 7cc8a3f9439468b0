import { findEncoding } from '../recording/index.ts';

/** A sheet as rows of cells. */
export interface CellRows {
  readonly rows: readonly CellRow[];
}

interface CellRow {
  /** Of the file, from 1. */
  readonly line: number;
  readonly cells: readonly string[];
  /** Columns whose cell is stored as a number: it is written with a point, whatever the marks of the file. */
  readonly stored?: ReadonlySet<number>;
}

/** Most rows and columns of a sheet: a class of a hundred groups with twenty recordings each. */
export const mostRows = 2000;
export const mostColumns = 100;
/** Longest cell, characters; what lies behind is cut off. */
const longestCell = 2000;

/** Why bytes are no sheet, and what to do. */
export interface NoSheet {
  readonly message: string;
  readonly action: string;
}

/**
 * Splits a text file into cells: commas, semicolons or tabs, whichever the heading has most of; quotation marks as in
 * RFC 4180. Empty lines are passed over.
 *
 * @param bytes of the file, in UTF-8, UTF-16 or Latin-1
 */
export function cellsOfText(bytes: Uint8Array): CellRows | NoSheet {
  const { encoding, markBytes } = findEncoding(bytes.subarray(0, 1 << 18));
  const name = encoding === 'latin-1' ? 'windows-1252' : encoding;
  const text = new TextDecoder(name, { ignoreBOM: true }).decode(bytes.subarray(markBytes));
  if (text.includes('\0')) {
    return {
      message: 'The file holds characters that no text has.',
      action: 'Save the sheet as CSV or XLSX, and hand that in.',
    };
  }
  const { start, delimiter } = delimiterOf(text);
  const rows: { line: number; cells: string[] }[] = [];
  let line = start.line;
  let cells: string[] = [];
  let begun = line;
  for (const { cell, end, lines } of cellsFrom(text, start.at, delimiter)) {
    if (cells.length < mostColumns) cells.push(cell.slice(0, longestCell).trim());
    line += lines;
    if (end === delimiter) continue;
    if (cells.some((one) => one !== '')) rows.push({ line: begun, cells });
    if (rows.length > mostRows) return tooManyRows;
    cells = [];
    line += 1;
    begun = line;
  }
  return { rows };
}

/** The answer for sheets that go on and on. */
export const tooManyRows: NoSheet = {
  message: `The sheet has more than ${mostRows} rows.`,
  action: 'Split it, or take out what is no submission.',
};

/** The delimiter of the first line that says anything; a first line `sep=;` names it, as spreadsheets write it. */
function delimiterOf(text: string): {
  readonly start: { readonly at: number; readonly line: number };
  readonly delimiter: string;
} {
  const named = /^\s*sep=(.)\r?\n/i.exec(text.slice(0, 40));
  if (named !== null) return { start: { at: named[0].length, line: 2 }, delimiter: named[1] ?? ',' };
  const first = text.split(/\r\n|\n|\r/, 50).find((one) => one.trim() !== '') ?? '';
  const outside = first.replace(/"[^"]*"/g, '');
  const counts = ['\t', ';', ','].map((mark) => ({ mark, count: outside.split(mark).length }));
  const most = counts.reduce((best, one) => (one.count > best.count ? one : best));
  return { start: { at: 0, line: 1 }, delimiter: most.mark };
}

/** A cell with what ended it: a delimiter, an end of line, or nothing at the end of the text. */
interface FoundCell {
  readonly cell: string;
  readonly end: string;
  /** Ends of line within the cell. */
  readonly lines: number;
}

function* cellsFrom(text: string, from: number, delimiter: string): Generator<FoundCell> {
  let at = from;
  while (at < text.length) {
    const quoted = text[at] === '"' ? closingQuote(text, at) : null;
    const bare = quoted === null ? at : quoted.end;
    const stop = endOfCell(text, bare, delimiter);
    const own = quoted === null ? text.slice(at, stop) : `${quoted.cell}${text.slice(bare, stop)}`;
    const end = text[stop] ?? '';
    yield { cell: own, end, lines: quoted === null ? 0 : quoted.cell.split('\n').length - 1 };
    at = stop + (end === '\r' && text[stop + 1] === '\n' ? 2 : 1);
  }
}

/** The text between quotation marks, and where it ends; null where none closes it, so that it is taken as it stands. */
function closingQuote(text: string, open: number): { readonly cell: string; readonly end: number } | null {
  let cell = '';
  let at = open + 1;
  while (at - open < longestCell * 4) {
    const close = text.indexOf('"', at);
    if (close < 0) return null;
    cell += text.slice(at, close);
    if (text[close + 1] !== '"') return { cell, end: close + 1 };
    cell += '"';
    at = close + 2;
  }
  return null;
}

function endOfCell(text: string, from: number, delimiter: string): number {
  let at = from;
  while (at < text.length && text[at] !== delimiter && text[at] !== '\n' && text[at] !== '\r') at += 1;
  return at;
}
