import { aligned } from './alignment.ts';
import type { ColumnKind, TableStyle } from './dialect.ts';
import { commentText, rowCells, splitRow } from './split.ts';
import { unitMeaning } from './units.ts';

/** Names and units above the table. */
export interface Header {
  readonly names: readonly string[];
  readonly units: readonly string[];
  readonly nameLine: string | null;
}

/**
 * Finds the row of names, and the row of units if there is one, in the lines above the numbers.
 *
 * @param before those lines, in order
 * @param rows the first rows of numbers, as cells
 */
export function readHeader(
  before: readonly string[],
  kinds: readonly ColumnKind[],
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
    const cells = headerCells(commentText(line) ?? line, style, fields);
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
      score: nameScore(cells) - unitCells(cells) - 0.01 * candidates.length,
    });
  }
  const named = candidates
    .filter((row) => row.units <= 0.5 * filled(row.cells))
    .sort((a, b) => b.score - a.score)
    .find((row) => row.score > 0);
  const united = candidates
    // A bare number can be a unit of ratios, but no row of units is made of it.
    .filter(
      (row) => row !== named && row.cells.some((cell) => !/^[-\d]/.test(cell) && unitMeaning(cell) !== null),
    )
    .sort((a, b) => b.units - a.units)[0];
  const align = (cells: readonly string[]) => aligned(cells, kinds, style, rows);
  const names = named === undefined ? [] : align(named.cells);
  // Below names that stand where they belong, as many units do as well.
  const inPlace = names === named?.cells && names.length === united?.cells.length;
  return {
    names,
    units: united === undefined ? [] : inPlace ? united.cells : align(united.cells),
    nameLine: named?.line.trim() ?? null,
  };
}

/** Names may hold spaces even where cells are parted by spaces; then two of them part the names. */
function headerCells(line: string, style: TableStyle, fields: number): string[] {
  if (style.delimiter !== 'space') return rowCells(line, style);
  const wide = line.trim().split(/ {2,}|\t+/);
  if (wide.length === fields) return wide;
  const joined = line
    .trim()
    .replace(/\s+/g, ' ')
    .replace(/ ([[(][^[\]()]*[\])])/g, '\u0000$1');
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
