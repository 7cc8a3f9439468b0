import { createHash } from 'node:crypto';
import { inflate, isGzip, largestPiece, openFile, readAt, readPieces } from './disk.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { Reader } from './reader.ts';
import { type RecordingFile, recordingFile } from './samples.ts';

export type { OpenFile } from './disk.ts';
export { type FollowedFile, followRecording, type Poll } from './follow.ts';
export { type RecordingFile, readSamples, type Samples } from './samples.ts';

/** Told now and then how many bytes of how many have been read. */
export type Progress = (bytes: number, of: number) => void;

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
    if (size === 0) {
      throw new RecordingError(
        'empty',
        name,
        null,
        'The file is empty.',
        'Check that the logger was recording.',
      );
    }
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
    const gzip = isGzip(await readAt(handle, 0, 3));
    if (gzip) await inflate(handle, name, seen, push);
    else {
      const take = (piece: Uint8Array): boolean => {
        seen(piece);
        return push(piece);
      };
      await readPieces(handle, 0, take, Math.min(largestPiece, size));
    }
    return recordingFile(reader.end(), { path, sha256: hash.digest('hex'), bytes }, gzip);
  } finally {
    await handle.close();
  }
}
