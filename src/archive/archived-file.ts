import type { DuckDBConnection } from '@duckdb/node-api';
import {
  type Progress,
  type RecordingFile,
  Rereading,
  rereadable,
  type Samples,
} from '../recording/files.ts';
import { type ReadOptions, RecordingError, readOptionsWords } from '../recording/index.ts';
import { parquetSource } from './engine.ts';
import type { ArchiveFacts } from './facts.ts';
import { withArchiveFile } from './parquet-file.ts';
import { numbersOf, rowsIn } from './rows.ts';

/**
 * What a file of an archive says of itself.
 *
 * @throws RecordingError where it is damaged
 */
export async function archivedFacts(path: string): Promise<ArchiveFacts> {
  return withArchiveFile(path, path, async (_connection, facts) => facts);
}

/**
 * Reads a file of an archive as its text was read when it was archived.
 *
 * @param name of the recording
 * @throws RecordingError where it is damaged
 */
export async function openArchivedFile(path: string, name: string): Promise<RecordingFile> {
  const { reading } = await archivedFacts(path);
  return openArchived(path, { ...reading, name });
}

/**
 * Reads a recording from its file in an archive.
 *
 * @throws RecordingError
 */
export async function openArchived(
  path: string,
  options: ReadOptions,
  onProgress?: Progress,
): Promise<RecordingFile> {
  const name = options.name ?? path;
  return withArchiveFile(path, name, async (connection, facts, file) => {
    refuseOther(name, facts.reading, options);
    const { opening, parts, columns, sha256, bytes, rows } = facts;
    const reading = new Rereading(opening, parts, columns, { ...options, name });
    let done = 0;
    for await (const some of rowsIn(connection, file, columns.slice(1))) {
      reading.push(some);
      done += some.length;
      onProgress?.(Math.round((bytes * done) / Math.max(1, rows)), bytes);
    }
    const { recording, part, firstTime } = reading.end();
    return rereadable({ ...recording, path, sha256, bytes }, (_recording, from, to, most) => {
      return withArchiveFile(path, name, (again, { sha256: now }) => {
        if (now !== sha256) throw changed(name);
        return stretch(again, file, { part, firstTime, from, to, most });
      });
    });
  });
}

interface Stretch {
  readonly part: number;
  /** Of the part's first usable sample, s. */
  readonly firstTime: number;
  readonly from: number;
  readonly to: number;
  readonly most: number;
}

async function stretch(
  connection: DuckDBConnection,
  file: string,
  { part, firstTime, from, to, most }: Stretch,
): Promise<Samples> {
  const limit = Math.max(0, Math.floor(most));
  const result = await connection.stream(
    `SELECT time_s, value FROM ${parquetSource(file)}
     WHERE part = ? AND time_s >= ? AND time_s <= ? AND value IS NOT NULL LIMIT ${limit}`,
    [part, from + firstTime, to + firstTime],
  );
  const times: number[] = [];
  const values: number[] = [];
  for (;;) {
    const chunk = await result.fetchChunk();
    if (chunk === null || chunk.rowCount === 0) break;
    times.push(...numbersOf(chunk.getColumnVector(0), chunk.rowCount));
    values.push(...numbersOf(chunk.getColumnVector(1), chunk.rowCount));
  }
  return {
    time: Float64Array.from(times, (time) => time - firstTime),
    value: Float64Array.from(values),
  };
}

/** What decides how characters become numbers and rows become moments: the rows were made by it. */
const deciding = ['rate', 'decimal', 'thousands', 'delimiter', 'encoding', 'timeColumn', 'timeUnit'] as const;

/** @throws RecordingError where the rows would have come out otherwise */
function refuseOther(name: string, reading: ReadOptions, asked: ReadOptions): void {
  if (deciding.every((one) => reading[one] === asked[one])) return;
  throw new RecordingError(
    'archive-unfit',
    name,
    null,
    `The archive was made by reading the text ${readOptionsWords(reading)}; read otherwise, other samples would come of it.`,
    'Read it in the same way, by the same options or the decision about the recording; or take the text from a backup.',
  );
}

function changed(name: string): RecordingError {
  return new RecordingError(
    'archive-damaged',
    name,
    null,
    'The file was exchanged while it was in use.',
    'Read it anew.',
  );
}
