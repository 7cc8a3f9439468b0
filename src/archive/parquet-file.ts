import { resolve } from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { RecordingError } from '../recording/index.ts';
import { memoryToRead, parquetSource, sqlText, withEngine } from './engine.ts';
import { type ArchiveFacts, factsFrom } from './facts.ts';
import { footerSize } from './parquet-ends.ts';
import { archivedColumnName, fixedColumns } from './rows.ts';

/** A footer holds what the file says of itself, with an opening of 256 KiB at most; beyond this it is none of ours, bytes. */
const largestFooter = 16 << 20;
/** Years of samples at 10 a second; some minutes at most are read of a file that lies. */
const mostRows = 1_000_000_000;

/**
 * Opens a file of an archive in an engine that reaches nothing else.
 *
 * @param name what a person calls it
 * @throws RecordingError where it is none, or damaged; whatever the work throws
 */
export async function withArchiveFile<T>(
  path: string,
  name: string,
  work: (connection: DuckDBConnection, facts: ArchiveFacts, file: string) => Promise<T>,
): Promise<T> {
  const footer = await footerSize(path);
  if (footer === null) throw damaged(name, 'it does not begin and end as a Parquet file does');
  if (footer > largestFooter) throw damaged(name, 'its footer is larger than any that is written here');
  const file = resolve(path);
  return withEngine([file], memoryToRead, async (connection) => {
    const facts = await understood(name, () => factsOf(connection, file));
    if (typeof facts === 'string') throw damaged(name, facts);
    return understood(name, () => work(connection, facts, file));
  });
}

async function factsOf(connection: DuckDBConnection, file: string): Promise<ArchiveFacts | string> {
  const words = await connection.run(
    `SELECT decode(key), decode(value) FROM parquet_kv_metadata(${sqlText(file)}) LIMIT 100`,
  );
  const facts = factsFrom(
    Object.fromEntries((await words.getRows()).map(([key, value]) => [String(key), String(value)])),
  );
  if (typeof facts === 'string') return facts;
  const counted = await connection.run(`SELECT num_rows FROM parquet_file_metadata(${sqlText(file)})`);
  const rows = Number((await counted.getRows())[0]?.[0] ?? -1);
  if (rows !== facts.rows) return `it holds ${rows} rows and says ${facts.rows}`;
  if (rows > mostRows) return `it holds more than ${mostRows} rows`;
  const described = await connection.run(`DESCRIBE SELECT * FROM ${parquetSource(file)}`);
  const types = new Map((await described.getRows()).map(([column, type]) => [String(column), String(type)]));
  const expected = new Map<string, string>([
    ...Object.entries(fixedColumns),
    ...facts.columns.slice(1).map((column): [string, string] => [archivedColumnName(column), 'DOUBLE']),
  ]);
  for (const [column, type] of expected) {
    if (types.get(column) !== type) return `its column ${column} is missing, or is no ${type}`;
  }
  return facts;
}

/** What the engine cannot read is a damaged file. */
async function understood<T>(name: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    const text = error instanceof Error && error.name === 'Error' ? error.message : '';
    if (!/^(?:[A-Z][A-Za-z-]* )+Error: /.test(text)) throw error;
    throw damaged(name, `the engine that reads it says: ${text.split('\n')[0]?.slice(0, 200)}`);
  }
}

function damaged(name: string, what: string): RecordingError {
  return new RecordingError(
    'archive-damaged',
    name,
    null,
    `This is no file of an archive that can be read: ${what}.`,
    'Take the file from a backup, or archive the text again.',
  );
}
