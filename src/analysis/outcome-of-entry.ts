import type { Experiment } from '../experiment/index.ts';
import { decidedOutcome, outcomeFrom } from './essence.ts';
import type { FolderEntry } from './folder-entry.ts';
import { type Outcome, unreadOutcome } from './pool.ts';
import { outcomeWithRig } from './rig-of-recording.ts';

/** What one recording of a folder brings to the whole, as far as it is known: with what people and rig checks say. */
export function outcomeOfEntry(experiment: Experiment, entry: FolderEntry): Outcome {
  const { placed, result, sha256, history } = entry;
  const { path, condition } = placed;
  // Nobody knows whether it was taken out.
  if (entry.fault !== null) return unreadOutcome(path, condition, new Error(entry.fault));
  if (entry.writing) return unreadOutcome(path, condition, new Error('It is still being written.'));
  if (result === null) return unreadOutcome(path, condition, new Error('It is not analyzed yet.'));
  if (result.kind === 'unreadable') return unreadOutcome(path, condition, new Error(result.message));
  const outcome = outcomeFrom(experiment, path, condition, sha256 ?? '', result.essence);
  return outcomeWithRig(decidedOutcome(outcome, history), entry.rigRemarks);
}
