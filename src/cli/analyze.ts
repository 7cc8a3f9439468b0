import { type AnalysisRequest, type AnalyzedFile, analyzeFile } from '../analysis/index.ts';
import { sizeOf } from '../recording/files.ts';
import { type AnalyzeJob, AnalyzeRun, type Said } from './analyze-run.ts';
import { type ExitStatus, isPlain, type Surroundings, startProgress } from './terminal.ts';
import type { AnalyzeOptions } from './wishes.ts';
import { analyzeModule, secondThreadModule, usualHands } from './worker-module.ts';

/** Smaller files are read before a bar could be seen, bytes. */
const worthABar = 8 << 20;

/** Fewer recordings are analyzed before several threads have started. */
const worthACrew = 6;

/**
 * The command `analyze`: every recording in the order given; one that cannot be read does not stop the others. Many are
 * analyzed by several threads, with the same words in the same order.
 *
 * @throws Error where options or experiment file cannot be understood: then nothing is analyzed
 */
export async function analyze(
  paths: readonly string[],
  options: AnalyzeOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { stdout, stderr, environment } = surroundings;
  const job: AnalyzeJob = { paths, options, plain: isPlain(stdout, environment) };
  const run = await AnalyzeRun.of(job);
  let failed = false;
  let repeat = false;
  const say = (said: Said) => {
    stdout.write(said.stdout);
    stderr.write(said.stderr);
    failed ||= said.failed;
    repeat ||= said.repeat;
  };
  stdout.write(run.head);
  const hands = Math.min(usualHands(), paths.length);
  const module = paths.length < worthACrew || hands < 2 ? null : analyzeModule();
  if (module !== null) {
    const { analyzeMany } = await import('./analyze-many.ts');
    await analyzeMany(job, run, { module, hands }, surroundings, say);
  } else {
    for (const i of paths.keys()) {
      const place = `${i + 1} of ${paths.length}`;
      say(await run.analyze(i, (file, request) => withProgress(file, place, request, surroundings)));
    }
  }
  if (failed) return 2;
  return repeat ? 1 : 0;
}

async function withProgress(
  path: string,
  place: string,
  wishes: AnalysisRequest,
  surroundings: Surroundings,
): Promise<AnalyzedFile> {
  const size = await sizeOf(path);
  if (size < worthABar) return analyzeFile(path, wishes);
  const progress = await startProgress(surroundings, size, `reading ${place}`);
  try {
    return await analyzeFile(path, wishes, progress.update, secondThreadModule());
  } finally {
    progress.stop();
  }
}
