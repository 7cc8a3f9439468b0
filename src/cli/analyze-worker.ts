/** Analyzes recordings for the command `analyze`, in a thread of its own: takes their numbers and answers what to print. */
import { parentPort, workerData } from 'node:worker_threads';
import { analyzeFile } from '../analysis/index.ts';
import { type AnalyzeJob, AnalyzeRun } from './analyze-run.ts';

const job: AnalyzeJob = workerData;
const run = AnalyzeRun.of(job);

parentPort?.on('message', (i: number) => {
  void run.then((ready) => ready.analyze(i, analyzeFile)).then((said) => parentPort?.postMessage(said));
});
