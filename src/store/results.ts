import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { writeAtomically } from './atomic-write.ts';
import { insideFolder } from './inside-folder.ts';
import { leadsOut } from './leads-out.ts';

/** Larger files are no results, bytes. */
const largest = 4 << 20;
/** Larger files are no index of results. */
const largestIndex = 64 << 20;

/** What tells without reading it whether a file may have changed. */
export interface FileTraits {
  readonly size: number;
  /** ms since 1970 (UTC) */
  readonly modified: number;
  /** Cannot be set back by hand, as the one before can. */
  readonly changed: number;
}

/** Traits of a file; null where it is not there. */
export async function traitsOf(path: string): Promise<FileTraits | null> {
  return stat(path).then(
    ({ size, mtimeMs, ctimeMs }) => ({ size, modified: mtimeMs, changed: ctimeMs }),
    () => null,
  );
}

/** Traits of the file in which a result is kept; null where there is none. */
export async function resultTraits(folder: string, recording: string): Promise<FileTraits | null> {
  try {
    return await traitsOf(resultPath(folder, recording));
  } catch {
    // No result is kept of what lies elsewhere.
    return null;
  }
}

/**
 * What was computed from a recording and kept below results/, as it was read: what it says is for the caller to judge.
 *
 * @param folder of the experiment
 * @param recording path from there, with / between its parts
 * @returns null where nothing is kept, or nothing that can be read
 */
export async function readResult(folder: string, recording: string): Promise<unknown> {
  return readKept(folder, resultPath(folder, recording), largest);
}

/**
 * What was kept of many recordings in one file, to be read in place of each, as it was read. What it says is for the
 * caller to judge.
 *
 * @returns null where there is none, or none that can be read
 */
export async function readResultsIndex(folder: string): Promise<unknown> {
  return readKept(folder, indexPath(folder), largestIndex);
}

async function readKept(folder: string, path: string, most: number): Promise<unknown> {
  try {
    const found = await stat(path);
    if (!found.isFile() || found.size > most || (await leadsOut(folder, path))) return null;
    const read: unknown = JSON.parse(await readFile(path, 'utf8'));
    return read;
  } catch {
    return null;
  }
}

/**
 * Keeps what was computed from a recording. Results can be computed again: where they cannot be written, nothing is lost.
 *
 * @returns whether it could be written
 */
export async function writeResult(folder: string, recording: string, result: unknown): Promise<boolean> {
  return writeKept(folder, resultPath(folder, recording), result, largest);
}

/** Keeps the index of results; nothing is lost where it cannot be written. @returns whether it could be written */
export async function writeResultsIndex(folder: string, index: unknown): Promise<boolean> {
  return writeKept(folder, indexPath(folder), index, largestIndex);
}

async function writeKept(folder: string, path: string, kept: unknown, most: number): Promise<boolean> {
  try {
    const text = `${JSON.stringify(kept)}\n`;
    if (text.length > most || (await leadsOut(folder, path))) return false;
    await writeAtomically(path, text);
    return true;
  } catch {
    return false;
  }
}

function resultPath(folder: string, recording: string): string {
  return join(folder, 'results', `${insideFolder(recording)}.json`);
}

/** Recordings with a leading dot are passed by, so that no result has this name. */
function indexPath(folder: string): string {
  return join(folder, 'results', '.index.json');
}
