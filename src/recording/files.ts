import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { createGunzip } from 'node:zlib';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { Collector, Reader, type Retrace, transcoder } from './reader.ts';
import { RowParser } from './rowparser.ts';
import { Tally } from './tally.ts';
import type { Blocks, Recording } from './types.ts';

/** A recording that was read from a file. */
export interface RecordingFile extends Recording {
  readonly path: string;
  /** SHA-256 of the file's bytes as they are stored, in hexadecimal. */
  readonly sha256: string;
  /** Size of the file, bytes. */
  readonly bytes: number;
}

/** Told now and then how many bytes of how many have been read. */
export type Progress = (bytes: number, of: number) => void;

/** Samples as they were. */
export interface Samples {
  /** s from the first sample of the recording. */
  readonly time: Float64Array;
  /** In the channel's unit. */
  readonly value: Float64Array;
}

const pieceSize = 1 << 21;
/** Deflate cannot make more than 1032 times as many bytes of anything (RFC 1951 bounds a match by 258 bytes). */
const honestRatio = 400;
/** Below this size no ratio is suspicious, bytes. */
const smallEnough = 1 << 26;

/** Kept by the blocks, so that a copy of the recording finds them, too. */
const retraces = new WeakMap<Blocks, { retrace: Retrace; gzip: boolean }>();

/**
 * Reads a recording from a file, plain or gzip. Memory does not grow with the file.
 *
 * @param path of the file
 * @param options what the caller knows better than the file; the name is the path if none is given
 * @param onProgress told about every few MiB
 * @throws RecordingError
 */
export async function readRecordingFile(
  path: string,
  options: ReadOptions = {},
  onProgress?: Progress,
): Promise<RecordingFile> {
  const name = options.name ?? path;
  const handle = await openFile(path, name);
  try {
    const { size } = await handle.stat();
    const reader = new Reader({ ...options, name });
    const hash = createHash('sha256');
    let bytes = 0;
    const seen = (piece: Uint8Array) => {
      hash.update(piece);
      bytes += piece.length;
      onProgress?.(bytes, Math.max(size, bytes));
    };
    const push = (piece: Uint8Array): boolean => {
      reader.push(piece);
      return true;
    };
    const gzip = await isGzip(handle);
    if (gzip) await inflate(handle, name, seen, push);
    else {
      await readPieces(handle, 0, (piece) => {
        seen(piece);
        return push(piece);
      });
    }
    const recording = { ...reader.finish(), path, sha256: hash.digest('hex'), bytes };
    retraces.set(recording.blocks, { retrace: reader.retrace, gzip });
    return recording;
  } finally {
    await handle.close();
  }
}

/**
 * Reads samples of a stretch once more, the same numbers as the first time. Only the stretch is read, but for
 * a compressed file or one in UTF-16, which is read from its start.
 *
 * @param recording what `readRecordingFile` gave
 * @param from s from the first sample
 * @param to s, not before `from`; a sample at `to` is included
 * @param most samples to return
 * @throws RecordingError where the file is not there any more
 */
export async function readSamples(
  recording: RecordingFile,
  from: number,
  to: number,
  most: number,
): Promise<Samples> {
  const kept = retraces.get(recording.blocks);
  if (kept === undefined) throw new TypeError('Only a recording from readRecordingFile can be read again.');
  const { retrace, gzip } = kept;
  const { plan } = retrace;
  const { encoding, markBytes } = plan.encoding;
  const seekable = !gzip && !encoding.startsWith('utf-16');
  const collected = new Collected(from + retrace.firstTime, to + retrace.firstTime, most, retrace.part);
  const checkpoint = seekable
    ? retrace.checkpoints.findLast(
        (c) => c.part < retrace.part || (c.part === retrace.part && c.time < collected.from),
      )
    : undefined;
  collected.part = checkpoint?.part ?? 0;
  const sink = new Collector(
    new Tally(),
    () => collected.begin(),
    (time, value) => collected.add(time, value),
  );
  const parser =
    checkpoint === undefined ? new RowParser(plan, sink) : RowParser.resume(plan, sink, checkpoint);
  const transcode = transcoder(encoding);
  const handle = await openFile(recording.path, recording.name);
  try {
    let skip = checkpoint === undefined ? markBytes : 0;
    const take = (piece: Uint8Array): boolean => {
      const dropped = Math.min(skip, piece.length);
      skip -= dropped;
      parser.push(transcode(piece.subarray(dropped)));
      return !collected.done;
    };
    if (gzip) await inflate(handle, recording.name, () => {}, take);
    else
      await readPieces(handle, checkpoint === undefined ? 0 : checkpoint.offset + markBytes, take, 1 << 17);
    if (!collected.done) parser.finish();
  } finally {
    await handle.close();
  }
  return collected.samples(retrace.firstTime);
}

class Collected {
  readonly from: number;
  readonly #to: number;
  readonly #most: number;
  readonly #wanted: number;
  readonly #times: number[] = [];
  readonly #values: number[] = [];
  part = 0;
  done = false;

  constructor(from: number, to: number, most: number, wanted: number) {
    this.from = from;
    this.#to = to;
    this.#most = Math.max(0, most);
    this.#wanted = wanted;
    this.done = this.#most === 0;
  }

  begin(): void {
    this.part++;
    if (this.part > this.#wanted) this.done = true;
  }

  add(time: number, value: number): void {
    if (this.done || this.part !== this.#wanted || time < this.from) return;
    if (time > this.#to) {
      this.done = true;
      return;
    }
    this.#times.push(time);
    this.#values.push(value);
    if (this.#times.length >= this.#most) this.done = true;
  }

  samples(firstTime: number): Samples {
    return {
      time: Float64Array.from(this.#times, (t) => t - firstTime),
      value: Float64Array.from(this.#values),
    };
  }
}

async function openFile(path: string, name: string): Promise<FileHandle> {
  const refuse = (what: string, mend: string): RecordingError =>
    new RecordingError('not-a-file', name, null, what, mend);
  if (path.includes('\0')) throw refuse('The path holds a NUL character.', 'Give the path of a text file.');
  try {
    // Asked before opening: opening a FIFO would wait for a writer.
    const found = await stat(path);
    if (found.isDirectory()) throw refuse('This is a folder.', 'Give the recordings in it one by one.');
    if (!found.isFile())
      throw refuse(
        'This is a device, a pipe or a socket, not a file.',
        'Save the recording to a file first.',
      );
    if (found.size === 0) {
      throw new RecordingError(
        'empty',
        name,
        null,
        'The file is empty.',
        'Check that the logger was recording.',
      );
    }
    const handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    const opened = await handle.stat();
    if (opened.isFile()) return handle;
    await handle.close();
    throw refuse('This is no longer a file.', 'Save the recording to a file first.');
  } catch (error) {
    if (error instanceof RecordingError) throw error;
    throw unreadable(error, name);
  }
}

function unreadable(error: unknown, name: string): RecordingError {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
  const [what, mend] =
    code === 'ENOENT' || code === 'ENOTDIR'
      ? ['There is no such file.', 'Check the path.']
      : code === 'EACCES' || code === 'EPERM'
        ? ['Reading it is not permitted.', 'Change its permissions, or copy it.']
        : [`It cannot be read (${code}).`, 'Copy it to another disk and try again.'];
  return new RecordingError('unreadable', name, null, what, mend);
}

async function isGzip(handle: FileHandle): Promise<boolean> {
  const start = new Uint8Array(3);
  const { bytesRead } = await handle.read(start, 0, 3, 0);
  return bytesRead === 3 && start[0] === 0x1f && start[1] === 0x8b && start[2] === 8;
}

/** Passes a file on in pieces until `take` has enough, reading the next one while the last is worked on. */
async function readPieces(
  handle: FileHandle,
  start: number,
  take: (piece: Uint8Array) => boolean,
  size = pieceSize,
): Promise<void> {
  let ready = new Uint8Array(size);
  let spare = new Uint8Array(size);
  let position = start;
  let pending = handle.read(ready, 0, size, position);
  while (true) {
    const { bytesRead } = await pending;
    if (bytesRead === 0) return;
    position += bytesRead;
    pending = handle.read(spare, 0, size, position);
    // A piece that cannot be read must not leave a read behind on a handle that is being closed.
    try {
      if (!take(ready.subarray(0, bytesRead))) {
        await pending;
        return;
      }
    } catch (error) {
      await pending.catch(() => {});
      throw error;
    }
    [ready, spare] = [spare, ready];
  }
}

/** Inflates a gzip file piece by piece until `take` has enough. */
async function inflate(
  handle: FileHandle,
  name: string,
  seen: (piece: Uint8Array) => void,
  take: (piece: Uint8Array) => boolean,
): Promise<void> {
  const gunzip = createGunzip({ chunkSize: 1 << 18 });
  let packed = 0;
  let unpacked = 0;
  const source = handle.createReadStream({ autoClose: false, highWaterMark: 1 << 18, start: 0 });
  source.on('data', (piece) => {
    packed += piece.length;
    if (typeof piece !== 'string') seen(piece);
  });
  source.on('error', (error) => gunzip.destroy(error));
  source.pipe(gunzip);
  try {
    for await (const piece of gunzip) {
      if (!(piece instanceof Uint8Array)) continue;
      unpacked += piece.length;
      if (unpacked > smallEnough && unpacked > honestRatio * packed) {
        throw new RecordingError(
          'archive-suspicious',
          name,
          null,
          `It unpacks to more than ${honestRatio} times its size, as no recording does.`,
          'Unpack it yourself and give the text file, if it is one.',
        );
      }
      if (!take(piece)) return;
    }
  } catch (error) {
    if (error instanceof RecordingError) throw error;
    throw new RecordingError(
      'unreadable',
      name,
      null,
      'The gzip data are damaged or cut off.',
      'Copy the file again, or unpack it with a tool that repairs.',
    );
  } finally {
    source.destroy();
    gunzip.destroy();
  }
}
