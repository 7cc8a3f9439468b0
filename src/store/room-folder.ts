import { lstat, mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { plainFile, utf8Text } from './plain-file.ts';

/** What opens the room stands in a folder of its own, which only its owner can read. */
const roomFolder = '.room';
/** bytes */
const largest = 1 << 20;

/** Path of a file that belongs to the room. */
export function roomPath(folder: string, name: string): string {
  return join(folder, roomFolder, name);
}

/**
 * A file of the room.
 *
 * @returns null where there is none
 * @throws StoreError where it cannot be read as text
 */
export async function readRoomFile(folder: string, name: string): Promise<string | null> {
  const path = roomPath(folder, name);
  const found = await lstat(path).catch(() => null);
  if (found === null) return null;
  const bytes = await plainFile(path, largest);
  const text = typeof bytes === 'string' ? null : utf8Text(bytes);
  if (text !== null) return text;
  const why = typeof bytes === 'string' ? bytes : 'is not UTF-8 text';
  throw new StoreError(`${roomFolder}/${name} ${why}. Move it away; the room is then set up anew.`);
}

/**
 * Makes the folder of the room where there is none.
 *
 * @throws StoreError
 */
export async function makeRoomFolder(folder: string): Promise<void> {
  try {
    await mkdir(join(folder, roomFolder), { recursive: true, mode: 0o700 });
    const found = await lstat(join(folder, roomFolder));
    if (!found.isDirectory()) throw new Error('it is a link');
  } catch (error) {
    throw new StoreError(`${roomFolder} cannot be made (${reason(error)}). Check the folder.`);
  }
}

/**
 * Writes a file of the room so that only its owner can read it.
 *
 * @throws StoreError
 */
export async function writeRoomFile(folder: string, name: string, text: string): Promise<void> {
  await makeRoomFolder(folder);
  try {
    await writeAtomically(roomPath(folder, name), text, 0o600);
  } catch (error) {
    throw new StoreError(`${roomFolder}/${name} cannot be written (${reason(error)}). Check the folder.`);
  }
}
