import { findRecordings, type MeasuredFolder, measureFolder } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { type Surroundings, startProgress } from './terminal.ts';

/**
 * Analyzes the recordings of an experiment folder, with a bar.
 *
 * @param given paths as typed; empty for all whose paths fit the pattern
 */
export async function measureRecordings(
  folder: string,
  experiment: Experiment,
  given: readonly string[],
  surroundings: Surroundings,
): Promise<MeasuredFolder> {
  const found = await findRecordings(folder, experiment, given);
  const progress = await startProgress(surroundings, Math.max(found.placed.length, 1), 'analyzing');
  try {
    return await measureFolder(folder, experiment, found, progress.update);
  } finally {
    progress.stop();
  }
}
