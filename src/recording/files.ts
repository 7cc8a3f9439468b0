import { createHash } from 'node:crypto';
import { availableParallelism } from 'node:os';
import type { Opening } from './archived.ts';
import { inflate, isGzip, largestPiece, openFile, readAt, readPieces, sizeOf } from './disk.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import type { Plan } from './plan.ts';
import { Reader } from './reader.ts';
import { type PartState, type Rows, RowTap } from './rows.ts';
import { understood } from './running.ts';
import { type RecordingFile, recordingFile } from './samples.ts';
import { headBytes } from './text.ts';
import { readWithSecond } from './two-threads.ts';

export { type Opening, Rereading, shortestOpening } from './archived.ts';
export { type OpenFile, sizeOf } from './disk.ts';
export { type FollowedFile, followRecording, type Poll } from './follow.ts';
export type { PartState, Rows } from './rows.ts';
export { type RecordingFile, readSamples, rereadable, type Samples } from './samples.ts';

/** Told now and then how many bytes of how many have been read. */
export type Progress = (bytes: number, of: number) => void;

/** A file from this size on is worth a second thread, bytes: below, starting it takes longer than it saves. */
const worthSecondThread = 32 << 20;

/**
 * Reads a recording from a file, plain or gzip. Memory does not grow with the file.
 *
 * @param path of the file
 * @param options what the caller knows better than the file; the name is the path if none is given
 * @param onProgress told about every few MiB
 * @param second module of the thread that helps with a large file; without it, one thread reads
 * @throws RecordingError
 */
export async function readRecordingFile(
  path: string,
  options: ReadOptions = {},
  onProgress?: Progress,
  second?: URL | null,
): Promise<RecordingFile> {
  const name = options.name ?? path;
  if (second && availableParallelism() > 1 && (await sizeOf(path)) >= worthSecondThread) {
    const read = await readWithSecond(path, new Reader({ ...options, name }), name, second, onProgress);
    if (read !== null) return read;
  }
  const reader = new Reader({ ...options, name });
  return readThrough(path, name, reader, (piece) => reader.push(piece), onProgress);
}

/** A recording, and what is needed to read it again from its rows alone. */
export interface RowsRead {
  readonly recording: RecordingFile;
  readonly opening: Opening;
  readonly parts: readonly PartState[];
}

/**
 * Reads a recording from a file as `readRecordingFile` does, and passes on every row as it was read.
 *
 * @param take given the rows in order, some thousands at a time; the next ones wait until it is done
 * @throws RecordingError; whatever `take` throws
 */
export async function readRecordingRows(
  path: string,
  options: ReadOptions,
  take: (rows: Rows) => void | Promise<void>,
  onProgress?: Progress,
): Promise<RowsRead> {
  const name = options.name ?? path;
  let tap: RowTap | null = null;
  const reader = new Reader({ ...options, name }, (parts, companions) => {
    tap = new RowTap(parts, companions);
    return tap;
  });
  // Set in a callback, which the compiler does not follow.
  const tapped = (): RowTap | null => tap;
  let head = new Uint8Array(0);
  let unpacked = 0;
  const push = async (piece: Uint8Array): Promise<void> => {
    if (head.length < headBytes) head = joined(head, piece.subarray(0, headBytes - head.length));
    unpacked += piece.length;
    reader.push(piece);
    const rows = tapped()?.take();
    if (rows !== undefined && rows.length > 0) await take(rows);
  };
  const recording = await readThrough(path, name, reader, push, onProgress);
  const last = tapped()?.take();
  if (last !== undefined && last.length > 0) await take(last);
  const opening = { bytes: head, complete: unpacked < headBytes };
  return { recording, opening, parts: tapped()?.end() ?? [] };
}

/**
 * The channel that would be read, and all that there are, as far as the beginning of a recording shows.
 *
 * @throws RecordingError
 */
export async function readChannels(
  path: string,
  options: ReadOptions,
): Promise<Pick<Plan['choice'], 'channel' | 'channels'>> {
  const name = options.name ?? path;
  const handle = await openFile(path, name);
  try {
    let head = new Uint8Array(0);
    const take = (piece: Uint8Array): boolean => {
      head = joined(head, piece.subarray(0, headBytes - head.length));
      return head.length < headBytes;
    };
    if (isGzip(await readAt(handle, 0, 3))) await inflate(handle, name, () => undefined, take);
    else await readPieces(handle, 0, take, headBytes);
    const { channel, channels } = understood(head, head.length < headBytes, { ...options, name }).plan.choice;
    return { channel, channels };
  } finally {
    await handle.close();
  }
}

async function readThrough(
  path: string,
  name: string,
  reader: Reader,
  push: (piece: Uint8Array) => void | Promise<void>,
  onProgress?: Progress,
): Promise<RecordingFile> {
  const handle = await openFile(path, name);
  try {
    const { size } = await handle.stat();
    if (size === 0) {
      throw new RecordingError(
        'empty',
        name,
        null,
        'The file is empty.',
        'Check that the logger was recording.',
      );
    }
    const hash = createHash('sha256');
    let bytes = 0;
    const seen = (piece: Uint8Array) => {
      hash.update(piece);
      bytes += piece.length;
      onProgress?.(bytes, Math.max(size, bytes));
    };
    const take = async (piece: Uint8Array): Promise<boolean> => {
      await push(piece);
      return true;
    };
    const gzip = isGzip(await readAt(handle, 0, 3));
    if (gzip) await inflate(handle, name, seen, take);
    else {
      const seenAndTaken = (piece: Uint8Array): Promise<boolean> => {
        seen(piece);
        return take(piece);
      };
      await readPieces(handle, 0, seenAndTaken, Math.min(largestPiece, size));
    }
    return recordingFile(reader.end(), { path, sha256: hash.digest('hex'), bytes }, gzip);
  } finally {
    await handle.close();
  }
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
