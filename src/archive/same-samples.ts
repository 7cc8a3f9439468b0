import { isDeepStrictEqual } from 'node:util';
import {
  type Progress,
  type RecordingFile,
  Rereading,
  type Rows,
  readRecordingRows,
} from '../recording/files.ts';
import { ArchiveError } from './archive-error.ts';
import { withArchiveFile } from './parquet-file.ts';
import { rowsIn } from './rows.ts';

/**
 * Holds a file of an archive against the text that it was made from: both are read from the disk, every row is compared
 * (part, time and all readings, bit for bit), and so is the recording that comes of each.
 *
 * @param text path of the text
 * @param archive path of the file
 * @param name of the recording
 * @returns the recording as the text has it, with all its channels
 * @throws ArchiveError where they differ; RecordingError where one of them cannot be read
 */
export async function sameSamples(
  text: string,
  archive: string,
  name: string,
  onProgress?: Progress,
): Promise<RecordingFile> {
  return withArchiveFile(archive, name, async (connection, facts, file) => {
    const { opening, parts, columns, reading } = facts;
    const options = { ...reading, name, companions: columns.slice(1) };
    const rereading = new Rereading(opening, parts, columns, options);
    const pulled = new Pulled(rowsIn(connection, file, columns.slice(1)), (rows) => rereading.push(rows));
    const { recording } = await readRecordingRows(text, options, (rows) => pulled.compare(rows), onProgress);
    if (!(await pulled.atEnd())) throw different('the archive holds more samples than the text');
    if (recording.sha256 !== facts.sha256 || recording.bytes !== facts.bytes) {
      throw different('the text has other bytes than it had when it was archived');
    }
    const again = { ...rereading.end().recording, path: text, sha256: facts.sha256, bytes: facts.bytes };
    if (!isDeepStrictEqual(again, recording) || facts.samples !== recording.samples) {
      throw different('what is understood of the recording is not the same');
    }
    return recording;
  });
}

/** Rows that are asked for in other portions than they come in. */
class Pulled {
  readonly #source: AsyncGenerator<Rows>;
  readonly #seen: (rows: Rows) => void;
  #rows: Rows | null = null;
  #at = 0;
  #compared = 0;

  /** @param seen told of every portion as it comes */
  constructor(source: AsyncGenerator<Rows>, seen: (rows: Rows) => void) {
    this.#source = source;
    this.#seen = seen;
  }

  /** @throws ArchiveError where the next rows are not these */
  async compare(expected: Rows): Promise<void> {
    for (let from = 0; from < expected.length; ) {
      const rows = await this.#current();
      if (rows === null) throw different(`the archive ends after sample ${this.#compared}`);
      const count = Math.min(expected.length - from, rows.length - this.#at);
      const odd = firstDifference(expected, from, rows, this.#at, count);
      if (odd >= 0) throw different(`sample ${this.#compared + odd + 1} is another one`);
      from += count;
      this.#at += count;
      this.#compared += count;
    }
  }

  async atEnd(): Promise<boolean> {
    return (await this.#current()) === null;
  }

  async #current(): Promise<Rows | null> {
    if (this.#rows !== null && this.#at < this.#rows.length) return this.#rows;
    const next = await this.#source.next();
    this.#rows = next.done === true ? null : next.value;
    this.#at = 0;
    if (this.#rows !== null) this.#seen(this.#rows);
    return this.#rows;
  }
}

/** Place of the first of so many rows that are not the same; -1 where all are. Zero and minus zero are not the same. */
function firstDifference(a: Rows, fromA: number, b: Rows, fromB: number, count: number): number {
  const pairs: [ArrayLike<number>, ArrayLike<number>][] = [
    [a.part, b.part],
    [a.time, b.time],
    ...a.values.map((values, k): [Float64Array, Float64Array] => [
      values,
      b.values[k] ?? new Float64Array(0),
    ]),
  ];
  for (let i = 0; i < count; i++) {
    for (const [one, other] of pairs) if (!Object.is(one[fromA + i], other[fromB + i])) return i;
  }
  return -1;
}

function different(what: string): ArchiveError {
  return new ArchiveError(
    `Text and archive are not the same: ${what}.`,
    'Keep the text; nothing of it was removed.',
  );
}
