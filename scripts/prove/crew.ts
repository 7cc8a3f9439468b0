import { Worker } from 'node:worker_threads';
import type { Done, Job } from './jobs.ts';

/**
 * Has work done by several threads at once. What comes back does not depend on how many there are.
 *
 * @param module that the threads run: it takes jobs as messages, and answers each with what was done
 * @param onDone told after each job how many recordings are done
 */
export async function workTogether(
  jobs: readonly Job[],
  module: URL,
  { seed, workers }: { readonly seed: number; readonly workers: number },
  onDone: (recordings: number) => void,
): Promise<Done[]> {
  const done: Done[] = [];
  let next = 0;
  let recordings = 0;
  const crew = Array.from({ length: Math.min(workers, jobs.length) }, () => work());
  await Promise.all(crew);
  return done.sort((a, b) => a.number - b.number || a.from - b.from);

  function work(): Promise<void> {
    return new Promise((resolve, reject) => {
      const worker = new Worker(module, { workerData: { seed } });
      const hand = () => {
        const job = jobs[next];
        next++;
        worker.postMessage(job ?? 'end');
      };
      worker.on('message', (answer: Done) => {
        done.push(answer);
        recordings += answer.outcomes.length;
        onDone(recordings);
        hand();
      });
      worker.on('error', reject);
      worker.on('exit', (code) =>
        code === 0 ? resolve() : reject(new Error(`a worker ended with ${code}`)),
      );
      hand();
    });
  }
}
