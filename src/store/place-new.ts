import { constants } from 'node:fs';
import { copyFile, link, realpath } from 'node:fs/promises';
import { sep } from 'node:path';

/**
 * Gives a file a second name where there must be none yet. A second name for the same bytes is made or refused in one
 * step; some disks have no second names.
 *
 * @throws Error with the code EEXIST where there is a file of that name, and others of the file system
 */
export async function placeNew(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch (error) {
    if (isCode(error, 'EEXIST')) throw error;
    await copyFile(from, to, constants.COPYFILE_EXCL);
  }
}

/** Whether an error of the file system has a code. */
export function isCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}

/** Whether a folder that is there lies within another one, all links followed. */
export async function isWithin(folder: string, path: string): Promise<boolean> {
  const [outer, inner] = [await realpath(folder), await realpath(path)];
  return inner === outer || inner.startsWith(outer + sep);
}
