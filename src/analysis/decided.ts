import { isAbsolute, join, relative } from 'node:path';
import { type DecisionHistory, decisionHistory, readDecisions, recordingSource } from '../store/index.ts';
import { hashOf } from './kept-result.ts';

/**
 * What people decided about a recording as its file now is.
 *
 * @param folder of the experiment
 * @param path as typed; a recording from elsewhere has no decisions here
 * @throws DecisionError where the decisions cannot be read
 */
export async function decidedAbout(folder: string, path: string): Promise<DecisionHistory> {
  const from = fromFolder(folder, path);
  if (isAbsolute(from) || from.startsWith('../')) return decisionHistory([], null);
  const stored = await readDecisions(folder, from);
  // Decisions count for the bytes that they were made for.
  if (stored.length === 0) return decisionHistory(stored, null);
  return decisionHistory(stored, await hashOf(join(folder, await recordingSource(folder, from))));
}

/** A path as typed, from the experiment folder, with / between its parts; absolute where it lies on another disk. */
export function fromFolder(folder: string, path: string): string {
  const from = relative(folder, path);
  return isAbsolute(from) ? from : from.replaceAll('\\', '/');
}
