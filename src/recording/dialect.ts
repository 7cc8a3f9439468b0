import { parseClock } from './clock.ts';
import { commaNumbers, refuseCommas } from './commas.ts';
import { RecordingError } from './error.ts';
import { type NumberStyle, parseNumber, splitSuffix } from './number.ts';
import type { ReadOptions } from './options.ts';
import { commentText, monitorStamp, type RowForm, type RowStyle, rowCells } from './split.ts';
import type { Dialect } from './types.ts';

/** What a cell looks like on its own. */
export type CellKind = 'number' | 'mark' | 'blank' | 'clock' | 'text';

/** What a column holds in most of its rows. */
export type ColumnKind = Exclude<CellKind, 'mark'>;

/** Delimiter, decimal mark and thousands mark of a file, and how sure they are. */
export interface TableStyle extends NumberStyle, RowStyle {
  /** Cells in a row. */
  readonly fields: number;
  /** What else the numbers could have meant; null where nothing else fits. */
  readonly doubt: string | null;
  /** Columns that it is about, counted from 0; null for any. */
  readonly doubtful: readonly number[] | null;
}

interface Candidate extends NumberStyle, RowStyle {}

interface Scored extends Candidate {
  readonly score: number;
  readonly fields: number;
  readonly whole: boolean;
}

const delimiters: readonly Dialect['delimiter'][] = ['\t', ';', ',', '|', 'space'];
const decimals: readonly Dialect['decimal'][] = ['.', ','];
const marks: readonly Dialect['thousands'][] = [null, ',', '.', ' ', "'"];

/** What a cell looks like in a style of numbers. */
export function cellKind(cell: string, style: NumberStyle): CellKind {
  const value = parseNumber(cell, style);
  if (typeof value === 'number') return 'number';
  if (value === 'blank') return 'blank';
  if (value !== 'text') return 'mark';
  if (parseClock(cell, 'dmy') !== null || parseClock(cell, 'mdy') !== null) return 'clock';
  const parts = splitSuffix(cell);
  return parts !== null && typeof parseNumber(parts.number, style) === 'number' ? 'number' : 'text';
}

/**
 * Chooses delimiter, decimal mark and thousands mark together: the combination under which most rows fall
 * into one number of cells that are all numbers, marks, dates or times.
 *
 * @param lines some hundred lines of the file, mostly data
 * @param options what the caller knows
 * @param name what the caller calls the file, for the error
 * @throws RecordingError `no-numbers`, `numbers-ambiguous`
 */
export function findTableStyle(lines: readonly string[], options: ReadOptions, name: string): TableStyle {
  const used = lines.filter((line) => /\d/.test(line) && commentText(line) === null);
  const commas = commaNumbers(lines);
  const asCommas = commas !== null && (options.delimiter ?? ',') === ',' && options.decimal !== '.';
  if (asCommas && (options.decimal === undefined || !commas.even)) refuseCommas(commas, name);
  const framed = used.filter((line) => monitorStamp.test(line)).length > 0.5 * used.length;
  const rank = (form: RowForm): Scored[] =>
    candidates(used, options, form)
      .map((candidate) => score(used, candidate))
      .sort((a, b) => b.score - a.score || preference(a) - preference(b));
  let scored = rank(asCommas ? 'pairs' : framed ? 'framed' : 'plain');
  // Names in front of the numbers are only looked for where nothing can be read without.
  if ((scored[0]?.score ?? 0) < 1) scored = rank('framed');
  const [best] = scored;
  if (best === undefined || best.score < 1) {
    throw new RecordingError(
      'no-numbers',
      name,
      null,
      'No rows of numbers were found in it.',
      'Give the text file that the logger wrote, with nothing but numbers, times and units in its rows; if it is that one, say how it is written with --delimiter and --decimal.',
      lines
        .slice(0, 5)
        .map((line) => `  ${line.slice(0, 100)}`)
        .join('\n'),
    );
  }
  const rivals = scored.filter((s) => s.score > best.score * (1 - 1e-9));
  return settle(best, rivals, used, lines, options, name);
}

function candidates(lines: readonly string[], options: ReadOptions, form: RowForm): Candidate[] {
  if (form === 'pairs') return [{ delimiter: ',', decimal: ',', thousands: null, form }];
  const text = lines.join('\n');
  const found = delimiters.filter((d) => text.includes(d === 'space' ? ' ' : d));
  // A single column holds no delimiter at all, so any stands for it; a tab is in nobody's number.
  const splits =
    options.delimiter !== undefined ? [options.delimiter] : [...new Set(['\t' as const, ...found])];
  const result: Candidate[] = [];
  for (const delimiter of splits) {
    for (const decimal of decimals) {
      if (options.decimal !== undefined && options.decimal !== decimal) continue;
      if (decimal === ',' && delimiter === ',' && !text.includes('"') && options.delimiter !== ',') continue;
      if (decimal === ',' && !text.includes(',') && options.decimal === undefined) continue;
      for (const thousands of marks) {
        if (options.thousands !== undefined && options.thousands !== thousands) continue;
        if (thousands === decimal || thousands === delimiter) continue;
        if (thousands === ' ' && delimiter === 'space') continue;
        if (thousands !== null && options.thousands === undefined && !grouped(text, thousands)) continue;
        result.push({ delimiter, decimal, thousands, form });
      }
    }
  }
  return result;
}

function grouped(text: string, mark: string): boolean {
  const escaped =
    mark === '.' ? '\\.' : mark === ' ' ? '[ \u00A0\u202F\u2009]' : mark === "'" ? "['\u2019]" : mark;
  return new RegExp(`\\d${escaped}\\d{3}(?!\\d)`).test(text);
}

/** Digits on both sides of what parts cells and nothing else: the row was parted elsewhere. */
const unparted = /\d\s*[;\t|]\s*[-+]?\d/;

/** Sum over the rows with the commonest number of cells of the share of their cells that can be read. */
function score(lines: readonly string[], candidate: Candidate): Scored {
  const byFields = new Map<number, { sum: number; fraction: boolean }>();
  for (const line of lines) {
    const cells = rowCells(line, candidate);
    let read = 0;
    let full = 0;
    let numbers = 0;
    let fraction = false;
    for (const cell of cells) {
      const kind = cellKind(cell, candidate);
      if (kind === 'blank') continue;
      full++;
      if (kind === 'number') numbers++;
      if (kind === 'number' || kind === 'clock') read++;
      else if (kind === 'mark') read += 0.9;
      else if (unparted.test(cell)) read -= 1;
      if (kind === 'number' && cell.includes(candidate.decimal)) fraction = true;
    }
    if (numbers === 0) continue;
    const entry = byFields.get(cells.length) ?? { sum: 0, fraction: false };
    entry.sum += read / full;
    entry.fraction ||= fraction;
    byFields.set(cells.length, entry);
  }
  let fields = 0;
  let best = { sum: 0, fraction: false };
  for (const [count, entry] of byFields) {
    if (entry.sum > best.sum) {
      fields = count;
      best = entry;
    }
  }
  return { ...candidate, fields, score: best.sum, whole: !best.fraction };
}

function preference(s: Scored): number {
  return (
    (s.thousands === null ? 0 : 100) + delimiters.indexOf(s.delimiter) * 10 + (s.decimal === '.' ? 0 : 1)
  );
}

function settle(
  best: Scored,
  rivals: readonly Scored[],
  rows: readonly string[],
  lines: readonly string[],
  options: ReadOptions,
  name: string,
): TableStyle {
  const style = (s: Scored, doubt: string | null, doubtful: readonly number[] | null = null): TableStyle => ({
    delimiter: s.delimiter,
    form: s.form,
    decimal: s.decimal,
    thousands: s.thousands,
    fields: s.fields,
    doubt,
    doubtful,
  });
  const separated = rivals.find((s) => s.delimiter === ',' && s.decimal === '.' && s.fields === 2 && s.whole);
  const joined = rivals.find((s) => s.fields === 1 && s.decimal === ',' && s.thousands === null && !s.whole);
  if (separated !== undefined && joined !== undefined) {
    const verdict = loneComma(rows, lines);
    if (verdict === null) {
      throw new RecordingError(
        'numbers-ambiguous',
        name,
        null,
        'The comma could part two columns of whole numbers, or it could be the decimal mark of one column.',
        'Say which with --decimal , (one column) or --delimiter comma (two columns).',
        rows
          .slice(0, 3)
          .map((row) => `  ${row.slice(0, 100)}`)
          .join('\n'),
      );
    }
    return verdict === 'decimal'
      ? style(joined, 'the comma was taken as the decimal mark, it could also part two columns')
      : style(separated, 'the comma was taken to part two columns, it could also be the decimal mark');
  }
  if (options.thousands === undefined && options.decimal === undefined) {
    const other = rivals.find((s) => s.decimal !== best.decimal && s.delimiter === best.delimiter);
    if (other !== undefined && best.decimal === ',' && other.thousands === ',') {
      // Decimals keep their number; whole numbers are written without a mark below one thousand.
      const mixed = groupsOnlyAboveThousand(rows.map((row) => rowCells(row, best)));
      return mixed
        ? style(other, 'the comma was taken as the thousands mark, it could also be the decimal mark')
        : style(best, 'the comma was taken as the decimal mark, it could also be the thousands mark');
    }
  }
  const grouped = alwaysOneGroup(rows, best);
  if (options.thousands === undefined && best.thousands === ',' && grouped.length > 0) {
    return style(
      best,
      'every number of a column has one comma with three digits behind it; it was taken as the thousands mark, it could also be the decimal mark',
      grouped,
    );
  }
  return style(best, null);
}

/** Columns whose numbers all have the look of 71,917: a thousand, or a decimal comma with three decimals. */
function alwaysOneGroup(rows: readonly string[], style: Scored): number[] {
  const cells = rows.map((row) => rowCells(row, style)).filter((row) => row.length === style.fields);
  return Array.from({ length: style.fields }, (_, i) => i).filter((i) => {
    return cells.length > 0 && cells.every((row) => /^[+-]?\d{1,3},\d{3}$/.test(row[i]?.trim() ?? ''));
  });
}

/** Whether a column holds whole numbers both without a comma and with one. */
function groupsOnlyAboveThousand(rows: readonly (readonly string[])[]): boolean {
  const width = rows.reduce((most, row) => Math.max(most, row.length), 0);
  return Array.from({ length: width }, (_, i) => rows.map((row) => row[i] ?? '')).some(
    (column) =>
      column.some((cell) => cell.includes(',')) && column.some((cell) => /^[+-]?\d{1,3}$/.test(cell)),
  );
}

/** What `12,345` alone in a row means, if something in the file tells. */
function loneComma(rows: readonly string[], lines: readonly string[]): 'decimal' | 'delimiter' | null {
  const firstRow = rows[0] ?? '';
  const header = lines
    .slice(0, lines.indexOf(firstRow))
    .reverse()
    .find((line) => line.trim() !== '');
  const pairs = rows.map((row) => row.trim().split(',')).filter((pair) => pair.length === 2);
  if (header !== undefined && /^[^:=]*[a-z][^:=]*$/i.test(header)) {
    return header.split(',').length === 2 ? 'delimiter' : 'decimal';
  }
  if (pairs.some(([, tail = '']) => /^0\d/.test(tail)) && pairs.length > 1) return 'decimal';
  const firsts = pairs.map(([head]) => Number(head));
  const step = (firsts[1] ?? 0) - (firsts[0] ?? 0);
  const counts = step > 0 && firsts.every((x, i) => i === 0 || x - (firsts[i - 1] ?? 0) === step);
  return counts && firsts.length >= 4 ? 'delimiter' : null;
}
