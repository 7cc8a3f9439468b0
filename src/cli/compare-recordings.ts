import { findRecordings, type MeasuredFolder, measureFolder } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { longWork } from './long-work.ts';
import type { Surroundings } from './terminal.ts';

/**
 * Analyzes the recordings of an experiment folder, by as many threads as there are processors, with a bar.
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
  return longWork(surroundings, (work) => measureFolder(folder, experiment, found, work));
}
