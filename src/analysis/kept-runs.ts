import type { RigRun } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { DecisionError } from '../store/index.ts';
import { decidedWithin } from './decided.ts';
import { keptResult } from './kept-result.ts';
import { findRecordings } from './measure.ts';

/**
 * The runs of a folder that count, from what is kept of its recordings; what waits is passed by. Of files that are
 * equal byte for byte the first counts. Nothing is written.
 *
 * @param folder of an experiment, of this or an earlier term
 */
export async function keptRuns(folder: string, experiment: Experiment): Promise<RigRun[]> {
  const runs: RigRun[] = [];
  const seen = new Set<string>();
  for (const { path, place, condition } of (await findRecordings(folder, experiment, [])).placed) {
    const kept = await keptResult(folder, path);
    if (kept === null || kept.result.kind === 'unreadable' || seen.has(kept.sha256)) continue;
    seen.add(kept.sha256);
    const { run, timeConstant } = kept.result.essence;
    if (run === null || timeConstant === null || (await isTakenOut(folder, path))) continue;
    runs.push({ ...condition, bench: place.bench, timeConstant: timeConstant.value, ...run });
  }
  return runs;
}

/** Whether a person took a recording out; decisions that cannot be read leave nobody sure. */
async function isTakenOut(folder: string, path: string): Promise<boolean> {
  try {
    return (await decidedWithin(folder, path)).rejected !== null;
  } catch (error) {
    if (error instanceof DecisionError) return true;
    throw error;
  }
}
