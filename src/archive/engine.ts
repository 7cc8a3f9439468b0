import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { type BinaryPart, binaryPart } from '../remark/index.ts';

const engine: BinaryPart = {
  makes: 'An archive of recordings',
  packageName: '@duckdb/node-api',
  instead: 'keep the recordings as texts there',
};

/** What the engine may do besides reading and writing the files that are named to it: reckon in its memory. */
const settings = {
  // One thread: the order of rows must not depend on who is first.
  threads: '1',
  autoload_known_extensions: 'false',
  autoinstall_known_extensions: 'false',
  allow_community_extensions: 'false',
} as const;

/** What the engine may take in memory to read any file, MB; what it reads passes through, and takes a part of it. */
export const memoryToRead = 256;

/**
 * Does some work in an engine (DuckDB in memory, its settings locked) that reaches the files that are named and nothing
 * else: no other files, no network, no extensions.
 *
 * @param files whole paths
 * @param memory most that the engine may take, MB; further rows wait on the disk
 * @throws whatever the work throws, and errors of the engine; MissingPartError where none fits this machine
 */
export async function withEngine<T>(
  files: readonly string[],
  memory: number,
  work: (connection: DuckDBConnection) => Promise<T>,
): Promise<T> {
  const { DuckDBInstance } = await binaryPart(engine, () => import('@duckdb/node-api'));
  // Rows that do not fit into its memory wait there.
  const scratch = await mkdtemp(join(tmpdir(), 'emberline-archive-'));
  try {
    const instance = await DuckDBInstance.create(':memory:', {
      ...settings,
      memory_limit: `${memory}MB`,
      temp_directory: scratch,
    });
    try {
      const connection = await instance.connect();
      try {
        await connection.run(`SET allowed_paths = [${files.map(sqlText).join(', ')}]`);
        await connection.run('SET enable_external_access = false');
        await connection.run('SET lock_configuration = true');
        return await work(connection);
      } finally {
        connection.closeSync();
      }
    } finally {
      instance.closeSync();
    }
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}

/** A text as the engine takes it. */
export function sqlText(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/** A table of the engine over a Parquet file; folders in its path are no columns. */
export function parquetSource(file: string): string {
  return `read_parquet(${sqlText(file)}, hive_partitioning = false)`;
}
