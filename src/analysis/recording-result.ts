import type { Experiment } from '../experiment/index.ts';
import type { RigCheck } from '../rig/index.ts';
import { FolderEntry } from './folder-entry.ts';
import type { Analyst } from './list-work.ts';
import type { PlacedRecording } from './measure.ts';
import type { RecordingSummary } from './types.ts';

/** What a whole file came to. */
export interface RecordingResult {
  readonly summary: RecordingSummary;
  /** Why it does not count, a person's word first; null where it does. */
  readonly excluded: string | null;
  /** Of the cooling, °C. */
  readonly ambient: number | null;
}

/**
 * The result of one recording of an experiment folder, as in the list of all: with what people decided about it and
 * with what the checks of its rig say. What is kept of it is taken where nothing has changed.
 *
 * @param rigChecks those that count
 */
export async function recordingResult(
  folder: string,
  experiment: Experiment,
  placed: PlacedRecording,
  rigChecks: readonly RigCheck[],
  analyst: Analyst,
): Promise<RecordingResult> {
  const entry = new FolderEntry(folder, experiment, placed, { rigChecks });
  await entry.look();
  await entry.analyze(analyst);
  const { result, history } = entry;
  const essence = result?.kind === 'analyzed' ? result.essence : null;
  const { rejected } = history;
  return {
    summary: entry.summary(null),
    excluded:
      rejected === null ? (essence?.excluded ?? null) : `${rejected.who} took it out: ${rejected.why}`,
    ambient: essence?.ambient ?? null,
  };
}
