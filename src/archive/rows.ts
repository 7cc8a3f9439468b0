import type { DuckDBAppender, DuckDBConnection, DuckDBVector } from '@duckdb/node-api';
import type { Rows } from '../recording/files.ts';
import { parquetSource } from './engine.ts';

/** Rows that go to the engine at once, and come from it: its own size. */
const atOnce = 2048;

/** Name of the column of an archive that holds a column of the text. @param column counted from 1 */
export function archivedColumnName(column: number): string {
  return `column_${column}`;
}

/** The columns that every file has, with their types in the engine. */
export const fixedColumns = {
  recording: 'VARCHAR',
  part: 'INTEGER',
  sample: 'BIGINT',
  time_s: 'DOUBLE',
  value: 'DOUBLE',
  overload: 'BOOLEAN',
} as const;

/** Adds rows to a table of part, time, overload and values. */
export async function rowWriter(appender: DuckDBAppender, values: number): Promise<(rows: Rows) => void> {
  const { BOOLEAN, DOUBLE, DuckDBDataChunk, INTEGER } = await import('@duckdb/node-api');
  const types = [INTEGER, DOUBLE, BOOLEAN, ...Array.from({ length: values }, () => DOUBLE)];
  // One for all rows: its memory is the engine's, and a new one each time would stay until it is collected.
  const chunk = DuckDBDataChunk.create(types, atOnce);
  return (rows) => {
    for (let start = 0; start < rows.length; start += atOnce) {
      const end = Math.min(rows.length, start + atOnce);
      chunk.reset();
      chunk.rowCount = end - start;
      const own = rows.values[0];
      const fill = (at: number, of: (i: number) => number | boolean | null) => {
        const vector = chunk.getColumnVector(at);
        for (let i = start; i < end; i++) vector.setItem(i - start, of(i));
        vector.flush();
      };
      fill(0, (i) => rows.part[i] ?? null);
      fill(1, (i) => present(rows.time[i]));
      fill(2, (i) => own?.[i] === Number.POSITIVE_INFINITY);
      rows.values.forEach((column, k) => {
        fill(3 + k, (i) => present(column[i]));
      });
      appender.appendDataChunk(chunk);
    }
  };
}

/** Nothing where there is no finite number. */
function present(number: number | undefined): number | null {
  return number !== undefined && Number.isFinite(number) ? number : null;
}

/**
 * The rows of a file, in their order, some thousands at a time.
 *
 * @param columns of the text that follow the channel, counted from 1
 */
export async function* rowsIn(
  connection: DuckDBConnection,
  file: string,
  columns: readonly number[],
): AsyncGenerator<Rows> {
  const others = columns.map((column) => `, "${archivedColumnName(column)}"`).join('');
  const result = await connection.stream(
    `SELECT part, time_s, overload, value${others} FROM ${parquetSource(file)}`,
  );
  for (;;) {
    const chunk = await result.fetchChunk();
    if (chunk === null || chunk.rowCount === 0) return;
    const length = chunk.rowCount;
    const column = (at: number) => numbersOf(chunk.getColumnVector(at), length);
    const overload = chunk.getColumnVector(2);
    const own = column(3);
    for (let i = 0; i < length; i++) {
      if (overload.getItem(i) === true && Number.isNaN(own[i])) own[i] = Number.POSITIVE_INFINITY;
    }
    yield {
      length,
      part: Int32Array.from(column(0)),
      time: column(1),
      values: [own, ...columns.map((_, k) => column(4 + k))],
    };
  }
}

/** Not-a-number where there is no finite number. */
export function numbersOf(vector: DuckDBVector, length: number): Float64Array {
  const numbers = new Float64Array(length);
  for (let i = 0; i < length; i++) {
    const item = vector.getItem(i);
    numbers[i] = typeof item === 'number' && Number.isFinite(item) ? item : Number.NaN;
  }
  return numbers;
}
