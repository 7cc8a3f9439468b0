import { randomBytes } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/**
 * Writes a file whole or not at all: into a temporary file beside it, flushed, then renamed over it. Folders are made
 * as needed.
 *
 * @param path of the file
 * @param content text or bytes
 * @param mode permissions of the file, where the system has them
 * @throws Error of the file system; what stood there before is then still there
 */
export async function writeAtomically(
  path: string,
  content: string | Uint8Array,
  mode = 0o666,
): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  const temporary = join(folder, `.${basename(path).slice(0, 40)}.${randomBytes(6).toString('hex')}.tmp`);
  try {
    const file = await open(temporary, 'wx', mode);
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  }
  await flushFolder(folder);
}

/** Makes new names in a folder last through a loss of power, on systems that can flush a folder. */
export async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null);
  if (handle === null) return;
  await handle.sync().catch(() => undefined);
  await handle.close();
}
