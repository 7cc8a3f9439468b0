import type { ColumnKind } from './dialect.ts';
import { indexName, isSensorName, timeName } from './names.ts';
import { type Mark, type NumberStyle, parseNumber } from './number.ts';
import { nameAndUnit, unitMeaning } from './units.ts';

/**
 * Puts a header's cells above the columns that they belong to. Where it has one name too few, with or without an empty
 * cell at its end, the nameless column is the last one, or the first if that numbers the rows: what the columns hold
 * says which. One name may also stand for date and time in two columns.
 *
 * @param rows the first rows of numbers, as cells
 * @returns a cell for each column; none where names could belong to one column as well as to the next
 */
export function aligned(
  cells: readonly string[],
  kinds: readonly ColumnKind[],
  style: NumberStyle,
  rows: readonly (readonly string[])[],
): readonly string[] {
  const named = cells.slice(0, cells.findLastIndex((cell) => cell !== '') + 1);
  if (named.length !== kinds.findLastIndex((kind) => kind !== 'blank')) return cells;
  const [first = ''] = named;
  // An empty first cell stands for the number of the row.
  if (first === '') return cells;
  const clockLeft = kinds[0] === 'clock' && kinds[1] === 'clock' && /date|datum|time|zeit|stamp/i.test(first);
  if (clockLeft) return [first, ...named];
  const numbers = rows.map((row) => row.map((cell) => parseNumber(cell, style)));
  const counted = numbers.slice(0, rowsCounted(numbers));
  if (counted.length < Math.max(2, Math.min(rows.length, fewestRows))) return cells;
  const misfits = (from: number) =>
    named.filter((cell, i) => {
      const values = counted.map((row) => row[from + i]).filter((value) => typeof value === 'number');
      const texts = rows.map((row) => row[from + i] ?? '');
      return misfit(cell, kinds[from + i] ?? 'text', values, lastPlace(texts, style));
    }).length;
  const here = misfits(0);
  const next = misfits(1);
  if (next < here) return ['', ...named];
  if (here < next) return cells;
  return cells.length < kinds.length ? ['', ...named] : [];
}

/** Rows from which it is no accident that a column counts up by ones, or evenly. */
const fewestRows = 10;

/** Rows from the first on whose first cells count up by ones. */
function rowsCounted(numbers: readonly (readonly (number | Mark)[])[]): number {
  const end = numbers.findIndex(([value], i) => i > 0 && value !== Number(numbers[i - 1]?.[0]) + 1);
  return end < 0 ? numbers.length : end;
}

/** The last place that a column's numbers use. */
function lastPlace(cells: readonly string[], { decimal }: NumberStyle): number {
  const decimals = cells.map((cell) =>
    cell.includes(decimal) ? cell.length - cell.indexOf(decimal) - 1 : 0,
  );
  return 10 ** -Math.max(0, ...decimals);
}

/** Whether a name and unit cannot be those of a column. */
function misfit(cell: string, kind: ColumnKind, values: readonly number[], place: number): boolean {
  const { name, unit: written } = nameAndUnit(cell);
  const unit = written ?? unitMeaning(cell);
  const lower = name.toLowerCase();
  const rises =
    values.every((x, i) => i === 0 || x >= (values[i - 1] ?? x)) && (values.at(-1) ?? 0) > (values[0] ?? 0);
  if (unit?.kind === 'time' || (unit === null && timeName.test(lower) && name !== 'T')) {
    return kind !== 'clock' && !(kind === 'number' && rises);
  }
  if (unit === null && indexName.test(lower)) return kind !== 'number' || !isStraight(values, 0);
  if (unit === null && !isSensorName(name)) return false;
  if (unit?.kind === 'other') return kind !== 'number';
  // No sensor rises evenly row for row.
  return kind !== 'number' || (values.length >= fewestRows && isStraight(values, place));
}

/** Steps of the last place over which an even rise is more than rounding. */
const fewestSteps = 10;

/** Whether values lie on a straight line within their last place, and rise by much more than that. */
function isStraight(values: readonly number[], place: number): boolean {
  const first = values[0] ?? 0;
  const rise = (values.at(-1) ?? 0) - first;
  const slope = rise / Math.max(1, values.length - 1);
  const allowed = 1.01 * place + 1e-9 * Math.abs(rise);
  return rise > fewestSteps * place && values.every((x, i) => Math.abs(x - first - slope * i) <= allowed);
}
