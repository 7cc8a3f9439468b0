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
  return (rows) => {
    for (let start = 0; start < rows.length; start += atOnce) {
      const end = Math.min(rows.length, start + atOnce);
      const chunk = DuckDBDataChunk.create(types, end - start);
      const own = rows.values[0]?.subarray(start, end) ?? new Float64Array(0);
      chunk.setColumnValues(0, Array.from(rows.part.subarray(start, end)));
      chunk.setColumnValues(1, present(rows.time.subarray(start, end)));
      chunk.setColumnValues(
        2,
        Array.from(own, (value) => value === Number.POSITIVE_INFINITY),
      );
      rows.values.forEach((column, k) => {
        chunk.setColumnValues(3 + k, present(column.subarray(start, end)));
      });
      appender.appendDataChunk(chunk);
    }
  };
}

/** Nothing where there is no finite number. */
function present(numbers: Float64Array): (number | null)[] {
  return Array.from(numbers, (one) => (Number.isFinite(one) ? one : null));
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
