import type { Remark } from '../remark/index.ts';
import { type Choice, chooseChannel } from './channels.ts';
import { type Column, findTable, namedColumns } from './columns.ts';
import { findTableStyle, type TableStyle } from './dialect.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { minePreamble } from './preamble.ts';
import { columnName, shownRows } from './shown.ts';
import { commentText, rowCells } from './split.ts';
import { type Encoding, isTooLong, longestLine } from './text.ts';
import { planTime, type TimePlan } from './timeplan.ts';
import type { Dialect } from './types.ts';

/** Everything that the head of a file decides about reading the rest. */
export interface Plan {
  readonly name: string;
  readonly encoding: Encoding;
  /** Byte that ends a line: LF, or CR where a file has no LF. */
  readonly lineEnd: 10 | 13;
  readonly style: TableStyle;
  readonly columns: readonly Column[];
  readonly choice: Choice;
  readonly time: TimePlan;
  readonly dialect: Dialect;
  readonly nameLine: string | null;
  readonly preamble: readonly string[];
  readonly remarks: readonly Remark[];
}

const keptPreamble = 200;
/** More channels than any rig has. */
const mostColumns = 512;

/**
 * Understands a file from its first bytes.
 *
 * @param head the first bytes, without a byte order mark, in UTF-8 or Latin-1
 * @param complete whether the file ends with them
 * @throws RecordingError where the file cannot be read or the caller has to choose
 */
export function planReading(
  head: Uint8Array,
  complete: boolean,
  encoding: Encoding,
  decode: (bytes: Uint8Array) => string,
  options: ReadOptions,
): Plan {
  const name = options.name ?? 'recording';
  const lineEnd = head.includes(10) || !head.includes(13) ? 10 : 13;
  const lines = headLines(head, complete, lineEnd, decode, name);
  const style = findTableStyle(sampled(lines), options, name);
  if (style.fields > mostColumns) {
    throw new RecordingError(
      'too-many-columns',
      name,
      null,
      `Its rows have ${style.fields} cells, more than ${mostColumns}.`,
      'Export fewer channels, or say how the file is written with --delimiter and --decimal.',
    );
  }
  const table = findTable(lines, style);
  if (table === null) {
    throw new RecordingError(
      'no-numbers',
      name,
      null,
      'No two rows of numbers that belong together were found in it.',
      'Give the text file that the logger wrote; if it is that one, say how it is written with --delimiter and --decimal.',
      lines
        .slice(0, 5)
        .map((line) => `  ${line.slice(0, 100)}`)
        .join('\n'),
    );
  }
  const firstLine = table.firstData + 1;
  const before = lines.slice(0, table.firstData);
  const facts = minePreamble(before.slice(0, 1000));
  const rows = dataRows(lines.slice(table.firstData), style);
  const evidence = { columns: table.columns, rows, style, facts, options, name, firstLine };
  const time = planTime(evidence);
  const timeColumns = time.columns;
  const columns = namedColumns(table.columns, facts, timeColumns[0] ?? null);
  const choice = chooseChannel(columns, options, { name, firstLine, timeColumns, statedUnit: facts.unit });
  return {
    name,
    encoding,
    lineEnd,
    style,
    columns,
    choice,
    time,
    nameLine: table.nameLine,
    preamble: before.slice(0, keptPreamble),
    dialect: {
      encoding: encoding.encoding,
      // A serial monitor's arrow stands between spaces.
      delimiter:
        style.delimiter === '\t' && !(lines[table.firstData] ?? '').includes('\t') && style.form === 'framed'
          ? 'space'
          : style.delimiter,
      decimal: style.decimal,
      thousands: style.thousands,
      firstDataLine: firstLine,
      time: time.basis,
    },
    remarks: [
      ...styleRemarks(style, columns, firstLine, usedColumns(timeColumns, choice)),
      ...time.remarks,
      ...choice.remarks,
    ],
  };
}

function headLines(
  head: Uint8Array,
  complete: boolean,
  lineEnd: 10 | 13,
  decode: (bytes: Uint8Array) => string,
  name: string,
): string[] {
  // What the head cuts off is no line yet.
  const whole = complete ? head : head.subarray(0, head.lastIndexOf(lineEnd) + 1);
  if (whole.length === 0 && isTooLong(head)) throw lineTooLong(name, 1);
  let start = 0;
  for (let line = 1; start < whole.length; line++) {
    const found = whole.indexOf(lineEnd, start);
    const end = found < 0 ? whole.length : found;
    if (end - start > longestLine && isTooLong(whole.subarray(start, end))) throw lineTooLong(name, line);
    start = end + 1;
  }
  // No byte of a longer character is a line end, so decoding all at once gives the same lines.
  const lines = decode(whole).split(String.fromCharCode(lineEnd));
  if (lines.at(-1) === '') lines.pop();
  // A lone CR in a file of LF lines ends a line as well.
  return lines.flatMap((line) => (line.includes('\r') ? line.replace(/\r+$/, '').split('\r') : line));
}

/** The error for a line that no logger writes. */
export function lineTooLong(name: string, line: number): RecordingError {
  return new RecordingError(
    'line-too-long',
    name,
    line,
    `The line is longer than ${longestLine} bytes.`,
    'Give the text file that the logger wrote, with one row to a line.',
  );
}

/** Enough lines to tell how numbers are written: some from the start, more from where the data surely are. */
function sampled(lines: readonly string[]): readonly string[] {
  return lines.length <= 400 ? lines : [...lines.slice(0, 150), ...lines.slice(-250)];
}

function dataRows(lines: readonly string[], style: TableStyle): string[][] {
  const rows: string[][] = [];
  let stamps = 0;
  let previous = '';
  for (const line of lines) {
    if (line.trim() === '' || commentText(line) !== null) continue;
    const cells = rowCells(line, style);
    if (Math.abs(cells.length - style.fields) > 1 || !/\d/.test(line)) continue;
    rows.push(cells);
    if (cells[0] !== previous) stamps++;
    previous = cells[0] ?? '';
    // More rows only where the first column stands still for long, as coarse time stamps do.
    if (rows.length >= 1000 && stamps > 20) break;
  }
  return rows;
}

/** Columns whose numbers count, from 0. */
function usedColumns(time: readonly number[], { channel, companions }: Choice): readonly number[] {
  return [...time, ...[channel, ...companions].map(({ column }) => column - 1)];
}

function styleRemarks(
  style: TableStyle,
  columns: readonly Column[],
  firstLine: number,
  used: readonly number[],
): Remark[] {
  const remarks: Remark[] = [];
  if (style.doubt !== null && (style.doubtful?.some((column) => used.includes(column)) ?? true)) {
    remarks.push({
      code: 'numbers-guessed',
      severity: 'caution',
      message: `From line ${firstLine} on, ${style.doubt}.`,
      action: 'Say which with --decimal, --thousands or --delimiter.',
    });
  }
  for (const column of columns) {
    if (column.dateLike === 0) continue;
    remarks.push({
      code: 'dates-suspect',
      severity: 'caution',
      message: `${column.dateLike} of the first cells of ${columnName(column)} look like dates, as when a spreadsheet has opened and saved the file.`,
      action: 'Use the file as the logger wrote it.',
    });
  }
  return remarks;
}

/** The rows as understood, for errors that come later. */
export function planRowsShown(plan: Plan): string {
  return shownRows(plan.columns, plan.dialect.firstDataLine);
}
