import { openAnalysis } from '../analysis/index.ts';
import { type Surroundings, startProgress } from './terminal.ts';

/** Analyzes the recordings of a folder that wait, with a bar, so that their results are kept. */
export async function settleResults(folder: string, surroundings: Surroundings): Promise<void> {
  const analysis = await openAnalysis(folder);
  const { total } = analysis.list().progress;
  const progress = await startProgress(surroundings, Math.max(total, 1), 'analyzing');
  const stop = analysis.onChange((change) => {
    if (change.kind === 'progress') progress.update(change.done);
  });
  try {
    await analysis.settled();
  } finally {
    stop();
    progress.stop();
    await analysis.close();
  }
}
