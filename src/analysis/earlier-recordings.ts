import type { ClassRecording } from '../class/index.ts';
import { type Experiment, recordingPlace } from '../experiment/index.ts';
import {
  DecisionError,
  decisionHistory,
  keptPaths,
  openEarlierTerms,
  readDecisions,
} from '../store/index.ts';
import { classRecording } from './class-recordings.ts';
import { expectedOf } from './expected.ts';
import { KeptBook } from './kept-book.ts';
import { earlierResult } from './kept-result.ts';

/** What was found in earlier terms, and what could not be used. */
export interface EarlierRecordings {
  readonly recordings: readonly ClassRecording[];
  /** Folders of which nothing could be used, as they were written, and why. */
  readonly troubles: readonly { readonly folder: string; readonly message: string }[];
}

/**
 * What folders of earlier terms have kept: results and decisions alone, the recordings may be gone. Nothing is written.
 *
 * @param folder of this experiment
 * @param written folders, from `folder` or whole
 */
export async function earlierRecordings(
  folder: string,
  written: readonly string[],
): Promise<EarlierRecordings> {
  const { terms, missing } = await openEarlierTerms(folder, written);
  const recordings: ClassRecording[] = [];
  const troubles = missing.map(({ written: one, message }) => ({ folder: one, message }));
  for (const { written: one, folder: place, term, experiment } of terms) {
    const kept = await keptOf(place, experiment, term);
    if (kept.length === 0) {
      const message = 'It has no results: analyze it once with emberline class or emberline serve.';
      troubles.push({ folder: one, message });
    }
    recordings.push(...kept);
  }
  return { recordings, troubles };
}

async function keptOf(folder: string, experiment: Experiment, term: string): Promise<ClassRecording[]> {
  const originals = new Set<string>();
  const found: ClassRecording[] = [];
  const book = await KeptBook.open(folder);
  for (const path of (await keptPaths(folder)).paths) {
    const place = recordingPlace(experiment, path);
    if (place.kind === 'asked' || place.body === null || place.flow === null) continue;
    const kept = (await book.of(path)) ?? (await earlierResult(folder, path));
    if (kept === null) continue;
    const condition = { body: place.body, flow: place.flow };
    const predicted = expectedOf(experiment, condition);
    const essence = kept.result.kind === 'analyzed' ? kept.result.essence : null;
    const copied = originals.has(kept.sha256);
    originals.add(kept.sha256);
    const taken = await isTakenOut(folder, path, kept.sha256);
    const excluded = copied || taken ? 'It did not count.' : (essence?.excluded ?? null);
    const known = { placed: { path, place, condition }, essence, sha256: kept.sha256, excluded };
    found.push(classRecording(experiment, known, predicted, term));
  }
  return found;
}

/** Whether a person took it out; decisions that cannot be read leave nobody sure. */
async function isTakenOut(folder: string, path: string, sha256: string): Promise<boolean> {
  try {
    return decisionHistory(await readDecisions(folder, path), sha256).rejected !== null;
  } catch (error) {
    if (error instanceof DecisionError) return true;
    throw error;
  }
}
