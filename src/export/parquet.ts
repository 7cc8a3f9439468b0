import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DuckDBAppender, DuckDBConnection } from '@duckdb/node-api';
import { type BinaryPart, binaryPart } from '../remark/index.ts';
import type { Cell, Column } from './columns.ts';
import { describedFields } from './fields.ts';
import type { ResultsTable } from './table.ts';

const engine: BinaryPart = {
  makes: 'A table as Parquet',
  packageName: '@duckdb/node-api',
  instead: 'write it as .csv or .xlsx',
};

const sqlTypes: Readonly<Record<Column['type'], string>> = {
  string: 'VARCHAR',
  number: 'DOUBLE',
  integer: 'BIGINT',
  boolean: 'BOOLEAN',
};

/** A table as it is written: what its columns mean is said apart. */
interface PlainTable {
  readonly columns: readonly Pick<Column, 'name' | 'type'>[];
  readonly rows: readonly (readonly Cell[])[];
}

/** Results as a Parquet file; what its columns mean goes with it as `fields`, in JSON. */
export async function parquetFile(table: ResultsTable): Promise<Uint8Array> {
  return parquetTable(table, describedFields(table.columns));
}

/**
 * A table as a Parquet file.
 *
 * @param fields what its columns mean: goes with it as `fields`, in JSON
 * @throws MissingPartError where no engine fits this machine
 */
export async function parquetTable(table: PlainTable, fields: readonly object[]): Promise<Uint8Array> {
  const { DuckDBInstance } = await binaryPart(engine, () => import('@duckdb/node-api'));
  const scratch = await mkdtemp(join(tmpdir(), 'emberline-parquet-'));
  // One thread: the order of what is written must not depend on who is first.
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  try {
    const connection = await instance.connect();
    try {
      const path = join(scratch, 'results.parquet');
      await writeTable(connection, table, fields, path);
      return await readFile(path);
    } finally {
      connection.closeSync();
    }
  } finally {
    instance.closeSync();
    await rm(scratch, { recursive: true, force: true });
  }
}

async function writeTable(
  connection: DuckDBConnection,
  table: PlainTable,
  described: readonly object[],
  path: string,
): Promise<void> {
  const { columns, rows } = table;
  const declared = columns.map(({ name, type }) => `"${name}" ${sqlTypes[type]}`).join(', ');
  await connection.run(`CREATE TABLE results (${declared})`);
  const appender = await connection.createAppender('results');
  for (const row of rows) {
    columns.forEach(({ type }, place) => {
      append(appender, type, row[place] ?? null);
    });
    appender.endRow();
  }
  appender.closeSync();
  const fields = quoted(JSON.stringify(described));
  await connection.run(
    `COPY results TO ${quoted(path)} (FORMAT parquet, COMPRESSION zstd, KV_METADATA {fields: ${fields}})`,
  );
}

function append(appender: DuckDBAppender, type: Column['type'], cell: Cell): void {
  if (typeof cell === 'string') appender.appendVarchar(cell);
  else if (typeof cell === 'boolean') appender.appendBoolean(cell);
  else if (cell === null) appender.appendNull();
  else if (type === 'integer') appender.appendBigInt(BigInt(Math.round(cell)));
  else appender.appendDouble(cell);
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
