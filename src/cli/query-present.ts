import type { Cell } from '../export/index.ts';
import type { QueryAnswer, QueryTable } from '../query/index.ts';
import { type Ink, printable } from './terminal.ts';
import { entry } from './wrap.ts';

/** Longest text in a cell on a terminal. */
const longest = 48;

/** An answer for a person: columns side by side, numbers to the right. */
export function presentAnswer({ columns, rows }: QueryAnswer, ink: Ink): string[] {
  const shown = rows.map((row) => columns.map((_, i) => cellText(row[i] ?? null)));
  const widths = columns.map((name, i) =>
    Math.max(
      ...[[printable(name)], ...shown].map((row, k) => [...((k === 0 ? row[0] : row[i]) ?? '')].length),
    ),
  );
  const right = columns.map((_, i) => rows.some((row) => typeof row[i] === 'number'));
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, i) => {
        const blank = ' '.repeat(Math.max(0, (widths[i] ?? 0) - [...cell].length));
        return right[i] ? `${blank}${cell}` : `${cell}${blank}`;
      })
      .join('  ')
      .trimEnd();
  const count = rows.length === 1 ? '1 row' : `${rows.length} rows`;
  return [ink.faint(line(columns.map((name) => printable(name)))), ...shown.map(line), ink.faint(count)];
}

function cellText(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number')
    return Number.isInteger(cell) ? String(cell) : String(Number(cell.toPrecision(6)));
  const text = printable(String(cell));
  const letters = [...text];
  return letters.length > longest ? `${letters.slice(0, longest - 1).join('')}…` : text;
}

/** The tables with their columns, for a person. */
export function presentTables(tables: readonly QueryTable[], ink: Ink): string[] {
  return tables.flatMap(({ name, meaning, columns, rows }) => [
    ink.strong(name),
    ...entry('', `${meaning} ${rows.length} ${rows.length === 1 ? 'row' : 'rows'} now.`, 2),
    ...columns.flatMap((column) => {
      const unit = column.unit === null || column.unit === '1' ? '' : ` (${column.unit})`;
      return entry(column.name, `${column.meaning}${unit}`, 28);
    }),
    '',
  ]);
}
