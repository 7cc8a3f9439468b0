import { type Cell, plainText } from '../export/index.ts';
import type { QueryColumn, QueryTable } from './types.ts';

/** A column with where its values come from. */
export interface Described<T> extends QueryColumn {
  readonly of: (row: T) => Cell;
}

export function column<T>(
  name: string,
  type: QueryColumn['type'],
  unit: string | null,
  meaning: string,
  of: (row: T) => Cell,
): Described<T> {
  return { name, type, unit, meaning, of };
}

/** A table from what its rows are made of: text in one line, numbers finite or absent. */
export function tableOf<T>(
  name: string,
  meaning: string,
  columns: readonly Described<T>[],
  of: readonly T[],
): QueryTable {
  return {
    name,
    meaning,
    columns: columns.map(({ of: _of, ...described }) => described),
    rows: of.map((row) => columns.map((one) => plain(one.of(row)))),
  };
}

function plain(cell: Cell): Cell {
  if (typeof cell === 'number') return Number.isFinite(cell) ? cell : null;
  return typeof cell === 'string' ? plainText(cell) : cell;
}
