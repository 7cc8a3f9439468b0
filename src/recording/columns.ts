import { type CellKind, cellKind, type TableStyle } from './dialect.ts';
import { parseNumber, splitSuffix } from './number.ts';
import type { PreambleFacts } from './preamble.ts';
import { commentText, splitRow } from './split.ts';
import { nameAndUnit, type UnitMeaning, unitMeaning } from './units.ts';

/** One column as the first rows show it. */
export interface Column {
  /** Counted from 0. */
  readonly index: number;
  /** From the header; empty where the file gives none. */
  readonly name: string;
  readonly unit: UnitMeaning | null;
  readonly kind: 'number' | 'clock' | 'text' | 'blank';
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
  const kinds = columnKinds(lines, style);
  const isData = (line: string): boolean => fitsColumns(splitRow(line, style.delimiter), kinds, style);
  const fits = lines.map((line) => commentText(line) === null && isData(line));
  const firstData = fits.findIndex((fit, i) => fit && followed(fits, lines, i));
  if (firstData < 0) return null;
  const rows = lines
    .slice(firstData, firstData + 400)
    .filter((line, i) => fits[firstData + i] && line !== '');
  const cells = rows.map((row) => splitRow(row, style.delimiter));
  const header = readHeader(lines.slice(0, firstData), kinds, style, cells);
  const columns = kinds.map((kind, index) =>
    describe(index, kind, cells, style, header.names[index] ?? '', header.units[index] ?? ''),
  );
  return { firstData, columns, nameLine: header.nameLine };
}

/** A row of numbers is believed when the next full line is one, too, or when nothing follows. */
function followed(fits: readonly boolean[], lines: readonly string[], at: number): boolean {
  for (let i = at + 1; i < lines.length; i++) {
    if ((lines[i] ?? '').trim() === '') continue;
    if (fits[i]) return true;
    // A comment or one bad line may come between; text right after the first row is a header's end.
    return fits.slice(i + 1, i + 4).some(Boolean) ? true : !fits.slice(i).some(Boolean);
  }
  return true;
}

function columnKinds(lines: readonly string[], style: TableStyle): Column['kind'][] {
  const counts = Array.from({ length: style.fields }, () => ({
    number: 0,
    mark: 0,
    blank: 0,
    clock: 0,
    text: 0,
  }));
  const sample = lines.length > 600 ? [...lines.slice(0, 200), ...lines.slice(-400)] : lines;
  for (const line of sample) {
    const cells = splitRow(line, style.delimiter);
    if (cells.length !== style.fields) continue;
    const row = cells.map((cell): CellKind => cellKind(cell, style));
    if (!row.includes('number')) continue;
    row.forEach((kind, i) => {
      const count = counts[i];
      if (count !== undefined) count[kind]++;
    });
  }
  return counts.map(({ number, mark, blank, clock, text }) => {
    if (number === 0 && mark === 0 && clock === 0 && text === 0) return blank > 0 ? 'blank' : 'text';
    if (clock > number && clock >= text) return 'clock';
    if (number + mark >= text && number + mark > 0) return 'number';
    return 'text';
  });
}

function fitsColumns(cells: readonly string[], kinds: readonly Column['kind'][], style: TableStyle): boolean {
  const surplus = cells.length - kinds.length;
  if (surplus < -1 || surplus > 1 || (surplus === 1 && cells.at(-1) !== '')) return false;
  if (surplus === -1 && kinds.length === 1) return false;
  let numbers = 0;
  for (const [i, kind] of kinds.entries()) {
    const cell = cells[i];
    if (cell === undefined) continue;
    const seen = cellKind(cell, style);
    if (seen === 'number') numbers++;
    if (seen === 'blank' || kind === 'text') continue;
    if (kind === 'number' && seen !== 'number' && seen !== 'mark') return false;
    if (kind === 'clock' && seen !== 'clock') return false;
  }
  return numbers > 0;
}

interface Header {
  readonly names: readonly string[];
  readonly units: readonly string[];
  readonly nameLine: string | null;
}

function readHeader(
  before: readonly string[],
  kinds: readonly Column['kind'][],
  style: TableStyle,
  rows: readonly (readonly string[])[],
): Header {
  const fields = kinds.length;
  const candidates: { line: string; cells: string[]; units: number; score: number }[] = [];
  let blanks = 0;
  for (let i = before.length - 1; i >= 0 && candidates.length < 8; i--) {
    const line = before[i] ?? '';
    if (line.trim() === '') {
      blanks++;
      if (blanks > 2) break;
      continue;
    }
    const cells = headerCells(commentText(line) ?? line, style.delimiter, fields);
    if (Math.abs(cells.length - fields) > 1 || (fields === 1 && (cells.length > 1 || /[:=]/.test(line)))) {
      if (candidates.length > 0) break;
      blanks++;
      if (blanks > 2) break;
      continue;
    }
    candidates.push({
      line,
      cells,
      units: unitCells(cells),
      score: nameScore(cells) - 0.01 * candidates.length,
    });
  }
  const named = candidates
    .filter((row) => row.units < 0.5 * filled(row.cells) || row.units === 0)
    .sort((a, b) => b.score - a.score)
    .find((row) => row.score > 0);
  const united = candidates
    .filter((row) => row !== named && row.units > 0)
    .sort((a, b) => b.units - a.units)[0];
  const align = (cells: readonly string[]) => aligned(cells, kinds, rows);
  return {
    names: named === undefined ? [] : align(named.cells),
    units: united === undefined ? [] : align(united.cells),
    nameLine: named?.line.trim() ?? null,
  };
}

/** Names may hold spaces even where cells are parted by spaces; then two of them part the names. */
function headerCells(line: string, delimiter: TableStyle['delimiter'], fields: number): string[] {
  if (delimiter !== 'space') return splitRow(line, delimiter);
  const wide = line.trim().split(/ {2,}|\t+/);
  if (wide.length === fields) return wide;
  const joined = line.trim().replace(/\s+([[(][^[\]()]*[\])])/g, '\u0000$1');
  const single = splitRow(joined, 'space').map((cell) => cell.replace('\u0000', ' '));
  return single;
}

function filled(cells: readonly string[]): number {
  return cells.filter((cell) => cell !== '').length;
}

function unitCells(cells: readonly string[]): number {
  return cells.filter((cell) => cell !== '' && unitMeaning(cell) !== null).length;
}

const headerWords =
  /time|zeit|temps|tiempo|tempo|date|datum|temp|channel|kanal|ch\s?\d|volt|spannung|sample|index|sensor|thermo|°|sec|probe|sonde|sphere|value|wert/i;

function nameScore(cells: readonly string[]): number {
  let score = 0;
  for (const cell of cells) {
    if (cell === '') continue;
    const numeric = /^[+-]?[\d.,:/-]+$/.test(cell);
    score += numeric ? -2 : cell.length > 40 ? 0.2 : 1;
    if (headerWords.test(cell) && cell.length <= 40) score += 1.5;
    if (/[:=]\s*\S/.test(cell)) score -= 1.5;
  }
  return score + (new Set(cells).size === cells.length ? 0.5 : 0);
}

/** A header one cell short of the rows belongs to the columns behind an unnamed row number. */
function aligned(
  cells: readonly string[],
  kinds: readonly Column['kind'][],
  rows: readonly (readonly string[])[],
): readonly string[] {
  if (cells.length !== kinds.length - 1 || kinds.at(-1) === 'blank') return cells;
  const counts =
    rows.length > 1 && rows.every((row, i) => i === 0 || Number(row[0]) === Number(rows[i - 1]?.[0]) + 1);
  const [first = ''] = cells;
  const clockLeft = kinds[0] === 'clock' && kinds[1] === 'clock' && /date|datum|time|zeit|stamp/i.test(first);
  if (clockLeft) return [first, ...cells];
  return counts ? ['', ...cells] : cells;
}

function describe(
  index: number,
  kind: Column['kind'],
  rows: readonly (readonly string[])[],
  style: TableStyle,
  header: string,
  unitCell: string,
): Column {
  const cells = rows.map((row) => row[index] ?? '').filter((cell) => cell !== '');
  const parsed = nameAndUnit(header);
  const numbers = cells.filter((cell) => typeof parseNumber(cell, style) === 'number');
  const suffixes = new Set(
    numbers.length > 0 ? [] : cells.map((cell) => splitSuffix(cell)?.suffix).filter((s) => s !== undefined),
  );
  const suffix = kind === 'number' && suffixes.size === 1 ? ([...suffixes][0] ?? null) : null;
  const unit = unitMeaning(unitCell) ?? parsed.unit ?? (suffix === null ? null : unitMeaning(suffix));
  return {
    index,
    name: parsed.name,
    unit,
    kind,
    suffix,
    decimals: kind === 'number' && suffix === null ? commonDecimals(numbers, style) : null,
    dateLike:
      kind === 'number'
        ? cells.filter((cell) =>
            /^(?:\d{1,4}[-/]\d{1,2}(?:[-/]\d{1,4})?|[A-Z][a-z]{2}[- ]\d{2}|\d{1,2}[-.][A-Z][a-z]{2,3})$/.test(
              cell,
            ),
          ).length
        : 0,
    sample: rows.slice(0, 5).map((row) => row[index] ?? ''),
  };
}

function commonDecimals(numbers: readonly string[], style: TableStyle): number | null {
  if (numbers.length < 20) return null;
  const found = new Set(
    numbers.map((cell) => {
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
    return { ...column, name: parsed.name, unit: column.unit ?? parsed.unit };
  });
}
