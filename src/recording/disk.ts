import { constants, type Stats } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { createGunzip } from 'node:zlib';
import { RecordingError } from './error.ts';

/** What is asked of an open file. */
export type OpenFile = Pick<FileHandle, 'stat' | 'read' | 'close'>;

/** Beyond this size, larger pieces read no faster, bytes. */
export const largestPiece = 1 << 21;
/** Deflate cannot make more than 1032 times as many bytes of anything (RFC 1951 bounds a match by 258 bytes). */
const honestRatio = 400;
/** Below this size no ratio is suspicious, bytes. */
const smallEnough = 1 << 26;

/** How far a packed file is followed. */
export interface UnpackLimits {
  /** Bytes that it may unpack to. */
  readonly most: number;
  /** Bytes after each of which it is looked at whether it is still the file that it was. */
  readonly look: number;
}

/** A day at 10 kHz with 37 bytes a line, some minutes to read; above that a few MB would keep a processor for hours. */
const usualUnpacking: UnpackLimits = { most: 32e9, look: 1 << 28 };

/**
 * Opens a file for reading, and nothing but a file.
 *
 * @param name what a person calls it
 * @throws RecordingError where it is none, is not there or is not permitted; another error as the system gave it
 *   is in `cause`
 */
export async function openFile(path: string, name: string): Promise<FileHandle> {
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

/** Bytes of a file; 0 where it cannot be asked, which reading it will say in better words. */
export async function sizeOf(path: string): Promise<number> {
  return stat(path).then(
    ({ size }) => size,
    () => 0,
  );
}

/** Whether an error of the system says that there is no file. */
export function saysGone(error: unknown): boolean {
  const code = systemCode(error);
  return code === 'ENOENT' || code === 'ENOTDIR';
}

/** Whether an error comes from the system, not from a mistake in the program. */
export function isSystemError(error: unknown): boolean {
  return /^E(?!RR_)/.test(systemCode(error));
}

/** The error of the system in words. */
export function unreadable(error: unknown, name: string): RecordingError {
  const code = systemCode(error);
  const [what, mend] = saysGone(error)
    ? ['There is no such file.', 'Check the path.']
    : code === 'EACCES' || code === 'EPERM'
      ? ['Reading it is not permitted.', 'Change its permissions, or copy it.']
      : code === 'EBUSY'
        ? ['Another program has locked it.', 'Wait until the logger lets go of it, or copy it.']
        : [`It cannot be read (${code}).`, 'Copy it to another disk and try again.'];
  const refusal = new RecordingError('unreadable', name, null, what, mend);
  refusal.cause = error;
  return refusal;
}

function systemCode(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
}

/** Whether bytes begin as gzip data do (RFC 1952, with the only method that there is). */
export function isGzip([a, b, method]: Uint8Array): boolean {
  return a === 0x1f && b === 0x8b && method === 8;
}

/** Bytes from a place in a file, fewer where it ends before. */
export async function readAt(handle: OpenFile, position: number, count: number): Promise<Uint8Array> {
  const bytes = new Uint8Array(count);
  let length = 0;
  // A share may give less than was asked for before the end of the file.
  while (length < count) {
    const { bytesRead } = await handle.read(bytes, length, count - length, position + length);
    if (bytesRead === 0) break;
    length += bytesRead;
  }
  return bytes.subarray(0, length);
}

/**
 * Passes a file on in pieces until `take` has enough, reading the next one while the last is worked on.
 *
 * @param start bytes from the start of the file
 * @param size of a piece at most, bytes
 */
export async function readPieces(
  handle: OpenFile,
  start: number,
  take: (piece: Uint8Array) => boolean | Promise<boolean>,
  size = largestPiece,
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
      if (!(await take(ready.subarray(0, bytesRead)))) {
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

/**
 * Inflates a gzip file piece by piece until `take` has enough.
 *
 * @throws RecordingError where it is damaged, unpacks to more than any recording does, or is replaced meanwhile
 */
export async function inflate(
  handle: FileHandle,
  name: string,
  seen: (piece: Uint8Array) => void,
  take: (piece: Uint8Array) => boolean | Promise<boolean>,
  { most, look }: UnpackLimits = usualUnpacking,
): Promise<void> {
  const before = await handle.stat();
  let looked = 0;
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
      if (unpacked > most) {
        throw new RecordingError(
          'archive-suspicious',
          name,
          null,
          `It unpacks to more than ${Math.round(most / 1e9)} GB, as no recording does.`,
          'Cut it into one file a trial.',
        );
      }
      if (unpacked - looked > look) {
        looked = unpacked;
        if (isAnother(before, await handle.stat())) {
          throw new RecordingError(
            'unreadable',
            name,
            null,
            'It was replaced or changed while it was read.',
            'Wait until it rests; then it is read again.',
          );
        }
      }
      if (!(await take(piece))) return;
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

/** Whether an open file is no longer what its path leads to, or holds something else. */
function isAnother(before: Stats, now: Stats): boolean {
  return now.nlink === 0 || now.mtimeMs !== before.mtimeMs || now.size !== before.size;
}
