import { open } from 'node:fs/promises';
import { resolve } from 'node:path';
import { type Progress, readChannels, readRecordingRows, shortestOpening } from '../recording/files.ts';
import type { ReadOptions } from '../recording/index.ts';
import { ArchiveError } from './archive-error.ts';
import { sqlText, withEngine } from './engine.ts';
import { type ArchiveFacts, mostParts, statedFacts } from './facts.ts';
import { archivedColumnName, rowWriter } from './rows.ts';

/**
 * Memory that the engine takes to write, MB: some for the rows that wait, of which all others go to the disk, and for each
 * channel its unfinished blocks and row group.
 */
const memoryToWrite = (channels: number) => 40 + 2 * channels;
/** Rows that are packed together: they are held in memory until they are, beside what packs them. */
const rowGroup = 30_720;

/** A text that is to be written as a file of an archive. */
export interface WriteOrder {
  /** Path of the text. */
  readonly text: string;
  /** Path of the recording in its experiment folder. */
  readonly recording: string;
  /** What is known of how the text is to be read. */
  readonly reading: ReadOptions;
  /** When the text was last written, ms since 1970 (UTC). */
  readonly modified: number;
}

/**
 * Writes every row of a text into a Parquet file: the channel that counts, all other channels, and what is needed to read
 * the recording again as from its text. The file is on the disk then, and not yet held against the text.
 *
 * @param to path of the file; nothing may be there
 * @throws RecordingError where the text cannot be read; ArchiveError where it cannot be archived; errors of the engine
 */
export async function writeArchiveFile(
  { text, recording, reading, modified }: WriteOrder,
  to: string,
  onProgress?: Progress,
): Promise<void> {
  const named = { ...reading, name: recording };
  const { channel, channels } = await readChannels(text, named);
  const others = channels.map(({ column }) => column).filter((column) => column !== channel.column);
  const options = { ...named, companions: others };
  const names = others.map((column) => `"${archivedColumnName(column)}"`);
  const file = resolve(to);
  await withEngine([file], memoryToWrite(others.length + 1), async (connection) => {
    const declared = names.map((name) => `, ${name} DOUBLE`).join('');
    await connection.run(
      `CREATE TABLE rows (part INTEGER, time_s DOUBLE, overload BOOLEAN, value DOUBLE${declared})`,
    );
    const appender = await connection.createAppender('rows');
    const write = await rowWriter(appender, others.length + 1);
    let rows = 0;
    const read = await readRecordingRows(
      text,
      options,
      (some) => {
        rows += some.length;
        write(some);
      },
      onProgress,
    );
    appender.closeSync();
    if (read.parts.length > mostParts) {
      throw new ArchiveError(
        `The logger began ${read.parts.length} times in it, more than ${mostParts} times.`,
        'Keep the text; as a recording it is of little use.',
      );
    }
    const facts: ArchiveFacts = {
      recording,
      sha256: read.recording.sha256,
      bytes: read.recording.bytes,
      rows,
      samples: read.recording.samples,
      reading,
      columns: [channel.column, ...others],
      parts: read.parts,
      opening: shortestOpening(read.opening, [named, options]),
    };
    const words = Object.entries(statedFacts(facts, read.recording, modified))
      .map(([key, value]) => `"${key}": ${sqlText(value)}`)
      .join(', ');
    const columns = ['part', 'rowid + 1 AS sample', 'time_s', 'value', 'overload', ...names].join(', ');
    await connection.run(
      `COPY (SELECT ${sqlText(recording)} AS recording, ${columns} FROM rows) TO ${sqlText(file)}
       (FORMAT parquet, PARQUET_VERSION V2, COMPRESSION zstd, ROW_GROUP_SIZE ${rowGroup}, KV_METADATA {${words}})`,
    );
  });
  const handle = await open(file, 'r+');
  await handle.sync().finally(() => handle.close());
}
