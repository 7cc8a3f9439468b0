import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { writeAtomically } from './atomic-write.ts';
import { insideFolder } from './inside-folder.ts';
import { leadsOut } from './leads-out.ts';

/** Larger files are no results, bytes. */
const largest = 4 << 20;

/**
 * What was computed from a recording and kept below results/, as it was read: what it says is for the caller to judge.
 *
 * @param folder of the experiment
 * @param recording path from there, with / between its parts
 * @returns null where nothing is kept, or nothing that can be read
 */
export async function readResult(folder: string, recording: string): Promise<unknown> {
  const path = resultPath(folder, recording);
  try {
    const found = await stat(path);
    if (!found.isFile() || found.size > largest || (await leadsOut(folder, path))) return null;
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
  const path = resultPath(folder, recording);
  try {
    if (await leadsOut(folder, path)) return false;
    await writeAtomically(path, `${JSON.stringify(result)}\n`);
    return true;
  } catch {
    return false;
  }
}

function resultPath(folder: string, recording: string): string {
  return join(folder, 'results', `${insideFolder(recording)}.json`);
}
