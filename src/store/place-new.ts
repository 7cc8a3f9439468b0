import { randomBytes } from 'node:crypto';
import { constants } from 'node:fs';
import { copyFile, link, lstat, open, realpath, rename, rm } from 'node:fs/promises';
import { basename, dirname, join, sep } from 'node:path';
import { flushFolder } from './atomic-write.ts';
import { withFileLock } from './file-lock.ts';

/**
 * Gives a file a second name where there must be none yet, for good: the name lasts through a loss of power. A second
 * name for the same bytes is made or refused in one step. Where the disk has no second names, or is another one, the
 * file is copied under a name that nobody lists, flushed, and renamed while no other writer of Emberline is there; only
 * a foreign program that makes a file of that very name in the same moment could be written over.
 *
 * @param from a file that was flushed
 * @throws Error with the code EEXIST where there is a file of that name, and others of the file system
 */
export async function placeNew(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch (error) {
    if (isCode(error, 'EEXIST')) throw error;
    await copyNew(from, to);
  }
  await flushFolder(dirname(to));
}

async function copyNew(from: string, to: string): Promise<void> {
  const hidden = (ending: string) => join(dirname(to), `.${basename(to).slice(0, 40)}${ending}`);
  const draft = hidden(`.${randomBytes(6).toString('hex')}.tmp`);
  try {
    await copyFile(from, draft, constants.COPYFILE_EXCL);
    const file = await open(draft, 'r+');
    await file.sync().finally(() => file.close());
    await withFileLock(hidden(''), async () => {
      if (await isThere(to)) throw Object.assign(new Error(`${to} is there`), { code: 'EEXIST' });
      await rename(draft, to);
    });
  } finally {
    await rm(draft, { force: true });
  }
}

/** A link that leads nowhere is something, too. */
async function isThere(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    (error: unknown) => {
      if (isCode(error, 'ENOENT')) return false;
      throw error;
    },
  );
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
