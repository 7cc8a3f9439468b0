import {
  type DetailAnswer,
  type DetailOrder,
  type LongWork,
  listCrew,
  threadCrew,
} from '../analysis/index.ts';
import { type Progress, type Surroundings, startProgress } from './terminal.ts';
import { detailModule, usualHands, workerModule } from './worker-module.ts';

/**
 * Does work on many recordings by as many threads as the machine has processors, with a bar on the terminal from the
 * first recording that has to be waited for.
 *
 * @throws what the work throws
 */
export async function longWork<T>(
  surroundings: Surroundings,
  run: (work: LongWork) => Promise<T>,
): Promise<T> {
  const module = workerModule();
  const crew = module === null ? null : listCrew(module, usualHands());
  const forDetails = detailModule();
  // No thread is started before there is something to do.
  const details =
    forDetails === null ? null : threadCrew<DetailOrder, DetailAnswer>(forDetails, { hands: usualHands() });
  const shown: Promise<Progress>[] = [];
  const tell = (done: number, total: number) => {
    if (shown.length === 0) {
      shown.push(startProgress(surroundings, Math.max(total, 1), 'analyzing recordings'));
    }
    for (const bar of shown) {
      void bar.then(({ update, stop }) => {
        update(done);
        // What follows may show a bar of its own.
        if (done >= total) stop();
      });
    }
  };
  try {
    return await run({ tell, ...(crew && { crew }), ...(details && { details }) });
  } finally {
    for (const bar of shown) (await bar).stop();
    await crew?.close();
    await details?.close();
  }
}
