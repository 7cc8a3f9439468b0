import { type CellKind, type ColumnKind, cellKind, type TableStyle } from './dialect.ts';
import { readHeader } from './header.ts';
import { parseNumber, splitSuffix } from './number.ts';
import type { PreambleFacts } from './preamble.ts';
import { commentText, framedCells, rowCells } from './split.ts';
import { nameAndUnit, timeUnitOfName, type UnitMeaning, unitMeaning } from './units.ts';

/** One column as the first rows show it. */
export interface Column {
  /** Counted from 0. */
  readonly index: number;
  /** From the header; empty where the file gives none. */
  readonly name: string;
  /** The header's cell as it stands in the file, with its unit. */
  readonly header: string;
  readonly unit: UnitMeaning | null;
  readonly kind: ColumnKind;
  /** Unit written behind every number, as it stands in the cells; null where there is none. */
  readonly suffix: string | null;
  /** Decimals of every number, where they are all the same and there are enough rows to tell. */
  readonly decimals: number | null;
  /** Numbers that look like dates, a sign of a spreadsheet. */
  readonly dateLike: number;
  /** The first cells, as text. */
  readonly sample: readonly string[];
}

/** The header block and the columns below it. */
export interface Table {
  /** Index into the lines of the first row of numbers. */
  readonly firstData: number;
  readonly columns: readonly Column[];
  /** The header's row of names as it stands in the file, to know it again when a logger restarts. */
  readonly nameLine: string | null;
}

/**
 * Finds where the numbers begin and what the columns are called.
 *
 * @param lines lines of the head, in order
 * @param style how they are written
 * @returns null where no row fits
 */
export function findTable(lines: readonly string[], style: TableStyle): Table | null {
  const { kinds, suffixed } = columnKinds(lines, style);
  const isData = (line: string): boolean => fitsColumns(rowCells(line, style), kinds, suffixed, style);
  const fits = (i: number): boolean => {
    const line = lines[i] ?? '';
    return commentText(line) === null && isData(line);
  };
  const firstData = lines.findIndex((_, i) => fits(i) && followed(fits, lines, i));
  if (firstData < 0) return null;
  const split = lines
    .slice(firstData, firstData + describedRows)
    .map((line) => rowCells(line, style))
    .filter((cells) => cells.length === style.fields || cells.length === style.fields + 1);
  const rows = split.filter((cells) => fitsColumns(cells, kinds, suffixed, style));
  const header = readHeader(lines.slice(0, firstData), kinds, style, rows);
  const labels =
    style.form === 'framed'
      ? framedCells(lines[firstData] ?? '', style.delimiter).map(({ name }) => name)
      : [];
  const columns = kinds.map((kind, index) => ({
    ...describe(
      index,
      kind,
      rows,
      style,
      (header.names[index] ?? '') || (labels[index] ?? ''),
      header.units[index] ?? '',
    ),
    // Dates among numbers do not fit, so they are looked for in all rows.
    dateLike: kind === 'number' ? split.filter((cells) => dateLike.test(cells[index] ?? '')).length : 0,
  }));
  return { firstData, columns: withUnitColumns(columns, rows), nameLine: header.nameLine };
}

/** A column that says nothing but a unit, row for row, gives it to the numbers in front of it, or else behind. */
function withUnitColumns(columns: readonly Column[], rows: readonly (readonly string[])[]): Column[] {
  const result = [...columns];
  for (const { index, kind, name } of columns) {
    const [text = ''] = rows[0]?.slice(index) ?? [];
    const meaning = kind === 'text' ? unitMeaning(text) : null;
    if (meaning === null || rows.some((row) => (row[index] ?? text) !== text)) continue;
    // A lone letter may be a state of the logger as well.
    if (/^[A-Z]$/.test(text) && name !== '' && !unitWords.test(name)) continue;
    const neighbour = [index - 1, index + 1]
      .map((i) => result[i])
      .find((column) => column?.kind === 'number' && column.unit === null);
    if (neighbour !== undefined) result[neighbour.index] = { ...neighbour, unit: meaning };
  }
  return result;
}

const unitWords = /unit|einheit|eenheid|unidad|dim(?:ension)?\b/i;

/** Rows from which a column's name, unit and decimals are told. */
const describedRows = 400;

const dateLike = /^(?:\d{1,4}[-/]\d{1,2}(?:[-/]\d{1,4})?|[A-Z][a-z]{2}[- ]\d{2}|\d{1,2}[-.][A-Z][a-z]{2,3})$/;

/** A row of numbers is believed when one of the next full lines is one, too. */
function followed(fits: (i: number) => boolean, lines: readonly string[], at: number): boolean {
  let seen = 0;
  for (let i = at + 1; i < lines.length && seen < 4; i++) {
    if ((lines[i] ?? '').trim() === '') continue;
    if (fits(i)) return true;
    seen++;
  }
  return false;
}

/** What most rows hold in each column, and whether they write a unit behind the number. */
function columnKinds(
  lines: readonly string[],
  style: TableStyle,
): { kinds: ColumnKind[]; suffixed: boolean[] } {
  const counts = Array.from({ length: style.fields }, () => ({
    number: 0,
    mark: 0,
    blank: 0,
    clock: 0,
    text: 0,
    suffixed: 0,
  }));
  const sample = lines.length > 600 ? [...lines.slice(0, 200), ...lines.slice(-400)] : lines;
  for (const line of sample) {
    const cells = rowCells(line, style);
    if (cells.length !== style.fields) continue;
    const row = cells.map((cell): CellKind => cellKind(cell, style));
    if (!row.includes('number')) continue;
    row.forEach((kind, i) => {
      const count = counts[i];
      if (count === undefined) return;
      count[kind]++;
      if (kind === 'number' && typeof parseNumber(cells[i] ?? '', style) !== 'number') count.suffixed++;
    });
  }
  const kinds = counts.map(({ number, mark, blank, clock, text }) => {
    if (number === 0 && mark === 0 && clock === 0 && text === 0) return blank > 0 ? 'blank' : 'text';
    if (clock > number && clock >= text) return 'clock';
    if (number + mark >= text && number + mark > 0) return 'number';
    return 'text';
  });
  return { kinds, suffixed: counts.map((count) => count.suffixed > 0.5 * count.number) };
}

function fitsColumns(
  cells: readonly string[],
  kinds: readonly ColumnKind[],
  suffixed: readonly boolean[],
  style: TableStyle,
): boolean {
  const surplus = cells.length - kinds.length;
  if (surplus < -1 || surplus > 1 || (surplus === 1 && cells.at(-1) !== '')) return false;
  if (surplus === -1 && kinds.length === 1) return false;
  let numbers = 0;
  for (const [i, kind] of kinds.entries()) {
    const cell = cells[i];
    if (cell === undefined) continue;
    const seen = cellKind(cell, style);
    if (seen === 'number') numbers++;
    // A unit behind a number where the column has none is a line of the header.
    if (seen === 'number' && !suffixed[i] && typeof parseNumber(cell, style) !== 'number') return false;
    if (seen === 'blank' || kind === 'text') continue;
    if (kind === 'number' && seen !== 'number' && seen !== 'mark') return false;
    if (kind === 'clock' && seen !== 'clock') return false;
  }
  return numbers > 0;
}

function describe(
  index: number,
  kind: ColumnKind,
  rows: readonly (readonly string[])[],
  style: TableStyle,
  header: string,
  unitCell: string,
): Omit<Column, 'dateLike'> {
  const cells = rows.map((row) => row[index] ?? '').filter((cell) => cell !== '');
  const parsed = nameAndUnit(header);
  const numbers = cells.filter((cell) => typeof parseNumber(cell, style) === 'number');
  const suffix = kind === 'number' && numbers.length === 0 ? commonSuffix(cells) : null;
  const unit =
    unitMeaning(unitCell) ??
    parsed.unit ??
    (suffix === null ? null : unitMeaning(suffix)) ??
    (kind === 'number' ? timeUnitOfName(parsed.name) : null);
  return {
    index,
    name: parsed.name,
    header,
    unit,
    kind,
    suffix,
    decimals: kind === 'number' && suffix === null ? commonDecimals(numbers, style) : null,
    sample: rows.slice(0, 5).map((row) => row[index] ?? ''),
  };
}

function commonSuffix(cells: readonly string[]): string | null {
  const counts = new Map<string, number>();
  for (const cell of cells) {
    const suffix = splitSuffix(cell)?.suffix;
    if (suffix !== undefined) counts.set(suffix, (counts.get(suffix) ?? 0) + 1);
  }
  const [commonest] = [...counts].sort((a, b) => b[1] - a[1]);
  return commonest?.[0] ?? null;
}

function commonDecimals(numbers: readonly string[], style: TableStyle): number | null {
  if (numbers.length < 20) return null;
  const found = new Set(
    // The last row may be cut off.
    numbers.slice(0, -1).map((cell) => {
      const at = cell.indexOf(style.decimal);
      return /[eEdD]/.test(cell) ? -1 : at < 0 ? 0 : cell.length - at - 1;
    }),
  );
  const [only = -1] = found;
  return found.size === 1 && only >= 0 ? only : null;
}

/** Names of channels that the preamble lists are given to columns that the header leaves without one. */
export function namedColumns(
  columns: readonly Column[],
  facts: PreambleFacts,
  timeIndex: number | null,
): Column[] {
  if (facts.names.size === 0 || columns.some((column) => column.name !== '' && column.index !== timeIndex)) {
    return [...columns];
  }
  const readings = columns.filter((column) => column.kind === 'number' && column.index !== timeIndex);
  return columns.map((column) => {
    const stated = facts.names.get(readings.indexOf(column) + 1);
    if (stated === undefined || !readings.includes(column)) return column;
    const parsed = nameAndUnit(stated);
    return { ...column, name: parsed.name, header: stated, unit: column.unit ?? parsed.unit };
  });
}
