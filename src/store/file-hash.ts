import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';

/**
 * SHA-256 of a file as it lies on the disk, in hexadecimal; read piece by piece, whatever its size.
 *
 * @throws Error of the file system
 */
export async function fileHash(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of createReadStream(path, { highWaterMark: 1 << 18 })) hash.update(piece);
  return hash.digest('hex');
}
