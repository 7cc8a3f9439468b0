import { availableParallelism } from 'node:os';
import { analyzeForList, type FolderAnalysis, listCrew, openAnalysis } from '../analysis/index.ts';
import { type Surroundings, startProgress } from './terminal.ts';
import { workerModule } from './worker-module.ts';

/** Most threads that analyze: each holds a recording in memory. */
const mostHands = 8;

/**
 * Does something with a folder when all of its recordings are analyzed. What was kept is taken as it is; the rest is
 * analyzed by as many threads as the machine has processors, with a bar on the terminal.
 */
export async function withSettledAnalysis<T>(
  folder: string,
  surroundings: Surroundings,
  work: (analysis: FolderAnalysis) => Promise<T>,
): Promise<T> {
  const module = workerModule();
  const hands = module === null ? 1 : Math.min(availableParallelism(), mostHands);
  const crew = module === null ? null : listCrew(module, hands);
  try {
    const analysis = await openAnalysis(folder, { analyst: crew?.analyst ?? analyzeForList, hands });
    try {
      await settled(analysis, surroundings);
      return await work(analysis);
    } finally {
      await analysis.close();
    }
  } finally {
    await crew?.close();
  }
}

async function settled(analysis: FolderAnalysis, surroundings: Surroundings): Promise<void> {
  const { done, total } = analysis.list().progress;
  if (done >= total) return;
  const progress = await startProgress(surroundings, total, 'analyzing recordings');
  const stop = analysis.onChange((change) => {
    if (change.kind === 'progress') progress.update(change.done);
  });
  try {
    await analysis.settled();
  } finally {
    stop();
    progress.stop();
  }
}
