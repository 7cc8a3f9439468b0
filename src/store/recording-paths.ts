import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { leadsOut } from './leads-out.ts';

/** What was found below a folder. */
export interface FoundRecordings {
  /** Paths from the experiment folder, with / between their parts, in the order of their letters. */
  readonly paths: readonly string[];
  /** Folders that were looked into, the same way. */
  readonly folders: readonly string[];
  /** Whether there were more than were looked at. */
  readonly cut: boolean;
  /** Whether the folder itself is a link that leads elsewhere, into which nobody looks. */
  readonly elsewhere: boolean;
}

/** Recordings of a course are hundreds; beyond this the folder is some other one. */
const most = 20_000;
const deepest = 8;
const endings = /\.(txt|csv|tsv|dat|asc|log|prn)(\.gz)?$/i;

/**
 * The recordings below a folder of an experiment, by their endings. Links are not followed, names with a leading dot
 * are passed by.
 *
 * @param folder of the experiment
 * @param below folder inside it, with / between its parts
 */
export async function recordingPaths(folder: string, below: string): Promise<FoundRecordings> {
  return pathsBelow(folder, below, (name) => endings.test(name));
}

/**
 * The recordings of which something was computed and kept in a folder, whether they are still there or not.
 *
 * @param folder of the experiment
 * @returns paths of the recordings, from there
 */
export async function keptPaths(folder: string): Promise<Omit<FoundRecordings, 'folders'>> {
  const { paths, ...rest } = await pathsBelow(folder, 'results', (name) => name.endsWith('.json'));
  return { paths: paths.map((path) => path.slice('results/'.length, -'.json'.length)), ...rest };
}

async function pathsBelow(
  folder: string,
  below: string,
  fits: (name: string) => boolean,
): Promise<FoundRecordings> {
  const paths: string[] = [];
  const folders: string[] = [];
  const waiting = [below];
  let seen = 0;
  const elsewhere = await leadsOut(folder, join(folder, below)).catch(() => false);
  if (elsewhere) return { paths, folders, cut: false, elsewhere };
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    folders.push(at);
    const entries = await readdir(join(folder, at), { withFileTypes: true }).catch(() => []);
    for (const entry of entries) {
      seen += 1;
      if (seen > most) return { paths: paths.sort(), folders, cut: true, elsewhere };
      if (entry.name.startsWith('.')) continue;
      const path = at === '' ? entry.name : `${at}/${entry.name}`;
      if (entry.isDirectory() && path.split('/').length <= deepest) waiting.push(path);
      if (entry.isFile() && fits(entry.name)) paths.push(path);
    }
  }
  return { paths: paths.sort(), folders, cut: false, elsewhere };
}
