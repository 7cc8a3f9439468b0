import { isGzip, openFile, readAt } from './disk.ts';
import type { Reader } from './reader.ts';
import { type RecordingFile, recordingFile } from './samples.ts';
import { SecondReader, SecondThreadLost } from './second-reader.ts';
import { headBytes } from './text.ts';

/**
 * Reads a text with the help of a second thread; the recording is the same as that of one thread.
 *
 * @param reader that has taken nothing yet
 * @param name what a person calls the file
 * @param module that the second thread runs
 * @param onProgress told how many bytes of how many have been read
 * @returns null where the file has no plain rows, or where the second thread was lost: it is then to be read by one
 * @throws RecordingError
 */
export async function readWithSecond(
  path: string,
  reader: Reader,
  name: string,
  module: URL,
  onProgress?: (bytes: number, of: number) => void,
): Promise<RecordingFile | null> {
  const handle = await openFile(path, name);
  const second = new SecondReader(module, handle.fd);
  try {
    const { size } = await handle.stat();
    const head = await readAt(handle, 0, headBytes);
    if (isGzip(head)) return null;
    reader.push(head);
    const form = reader.plainForm;
    if (form === null) return null;
    const seen = (bytes: number) => onProgress?.(bytes, Math.max(size, bytes));
    const { sha256, bytes } = await second.pass(reader, form, head.length, seen);
    return recordingFile(reader.end(), { path, sha256, bytes }, false);
  } catch (error) {
    if (error instanceof SecondThreadLost) return null;
    throw error;
  } finally {
    // The thread reads from the open file: it ends first.
    await second.close();
    await handle.close();
  }
}
