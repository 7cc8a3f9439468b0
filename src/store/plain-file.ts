import { constants } from 'node:fs';
import { lstat, open } from 'node:fs/promises';

/**
 * The bytes of a plain file, never of a link; its length is held to while it is read, so a growing file does no harm.
 *
 * @param most bytes
 * @returns or why not, as the end of a sentence that begins with "it"
 */
export async function plainFile(path: string, most: number): Promise<Uint8Array | string> {
  const found = await lstat(path).catch(() => null);
  if (found === null) return 'cannot be read';
  if (!found.isFile()) return 'is no plain file: put the file itself there';
  if (found.size > most) return `has more than ${most} bytes, with what was read before: make it smaller`;
  // Between the look and this, a link or a pipe may have been put in its place.
  const file = await open(
    path,
    constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0),
  ).catch(() => null);
  if (file === null) return 'may not be read: check its permissions';
  try {
    const opened = await file.stat();
    if (!opened.isFile() || opened.ino !== found.ino) return 'was changed meanwhile: read it once more';
    const bytes = new Uint8Array(found.size);
    let length = 0;
    while (length < bytes.length) {
      const { bytesRead } = await file.read(bytes, length, bytes.length - length, length);
      if (bytesRead === 0) break;
      length += bytesRead;
    }
    return bytes.subarray(0, length);
  } catch {
    return 'cannot be read to its end';
  } finally {
    await file.close();
  }
}

/** Bytes as text in UTF-8; null where they are none. */
export function utf8Text(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
