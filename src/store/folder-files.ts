import { opendir } from 'node:fs/promises';
import { join } from 'node:path';
import { leadsOut } from './leads-out.ts';

/** A course is some thousands of files; beyond this the folder is some other one. */
const most = 200_000;
const deepest = 16;

/** Everything in a folder, hidden or not. Links are named and not followed. */
export interface FolderFiles {
  /** Plain files, from the folder, with / between the parts of their paths. */
  readonly files: readonly string[];
  /** Links that lead out of the folder, or nowhere: what they stand for is in no copy of it. */
  readonly linksOut: readonly string[];
  /** Folders that cannot be listed. */
  readonly closed: readonly string[];
  /** Whether there is more than was looked at. */
  readonly cut: boolean;
}

/** Lists everything in a folder. */
export async function folderFiles(folder: string): Promise<FolderFiles> {
  const files: string[] = [];
  const linksOut: string[] = [];
  const closed: string[] = [];
  const waiting = [''];
  let cut = false;
  let seen = 0;
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    const listed = await opendir(join(folder, at)).catch(() => null);
    if (listed === null) {
      closed.push(at);
      continue;
    }
    for await (const entry of listed) {
      seen += 1;
      if (seen > most) return { files, linksOut, closed, cut: true };
      const path = at === '' ? entry.name : `${at}/${entry.name}`;
      if (entry.isFile()) files.push(path);
      else if (entry.isSymbolicLink() && (await leadsOut(folder, join(folder, path)))) linksOut.push(path);
      else if (entry.isDirectory() && path.split('/').length < deepest) waiting.push(path);
      else if (entry.isDirectory()) cut = true;
    }
  }
  return { files: files.sort(), linksOut: linksOut.sort(), closed, cut };
}

/**
 * Whether a file is one that was under way when a program was killed: half-written under a name that nobody reads, or a
 * lock.
 */
export function isLeftover(path: string): boolean {
  const name = path.split('/').at(-1) ?? '';
  return (
    /^\..*\.tmp$/.test(name) ||
    /\.lock(?:\.break)?(?:-[0-9a-f]{24})?$/.test(name) ||
    /^\.uploads\/.*\.part$/.test(path)
  );
}
