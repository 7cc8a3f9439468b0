import { withSettledAnalysis } from '../analysis/index.ts';
import { longWork } from './long-work.ts';
import type { Surroundings } from './terminal.ts';

/** Analyzes the recordings of a folder that wait, with a bar, so that their results are kept. */
export async function settleResults(folder: string, surroundings: Surroundings): Promise<void> {
  await longWork(surroundings, (work) => withSettledAnalysis(folder, work, async () => undefined));
}
