import { brokenOff, threadCrew } from '../analysis/index.ts';
import type { AnalyzeJob, AnalyzeRun, Said } from './analyze-run.ts';
import { type Surroundings, startProgress } from './terminal.ts';

/**
 * Analyzes recordings by several threads, and passes on what each brings in the order of their paths, as soon as all
 * before it have been passed on.
 *
 * @param module that each thread runs
 * @param hands how many recordings at once, > 0
 */
export async function analyzeMany(
  job: AnalyzeJob,
  run: AnalyzeRun,
  { module, hands }: { readonly module: URL; readonly hands: number },
  surroundings: Surroundings,
  say: (said: Said) => void,
): Promise<void> {
  const { paths } = job;
  const crew = threadCrew<number, Said>(module, { hands, data: job });
  // On a terminal the results themselves show how far it is.
  const progress = surroundings.stdout.isTTY
    ? null
    : await startProgress(surroundings, paths.length, 'analyzing recordings');
  const waiting = new Map<number, Said>();
  let begun = 0;
  let passedOn = 0;
  let done = 0;
  const hand = async () => {
    while (begun < paths.length) {
      const i = begun++;
      const said = (await crew.give(i)) ?? run.failed(paths[i] ?? '', new Error(brokenOff));
      waiting.set(i, said);
      done += 1;
      for (let next = waiting.get(passedOn); next !== undefined; next = waiting.get(passedOn)) {
        waiting.delete(passedOn);
        passedOn += 1;
        say(next);
      }
      progress?.update(done);
    }
  };
  try {
    await Promise.all(Array.from({ length: hands }, hand));
  } finally {
    progress?.stop();
    await crew.close();
  }
}
