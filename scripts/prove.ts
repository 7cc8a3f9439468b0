/**
 * Proves the intervals over simulated recordings and writes docs/proof.md. Run with `npm run prove`, or for a few
 * minutes with `npm run prove -- --quick`, which writes to the terminal only. `--share 0.5` takes half of the recordings
 * of each kind and says so in the table. `--seed 2` takes another seed, `--only
 * bead` the kinds whose names hold a text.
 */
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { startProgress } from '../src/cli/terminal.ts';
import { workTogether } from './prove/crew.ts';
import { jobsOf } from './prove/jobs.ts';
import { proofOf, recordingsIn } from './prove/proof.ts';
import { reportOf } from './prove/report.ts';

const { values } = parseArgs({
  options: {
    quick: { type: 'boolean', default: false },
    share: { type: 'string', default: '1' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string', default: '' },
    workers: { type: 'string', default: String(availableParallelism()) },
  },
});
const seed = wholeNumber('--seed', values.seed);
const workers = Math.max(1, wholeNumber('--workers', values.workers));
/** A quick run takes so many of the recordings of a full one. */
const share = values.quick ? 0.15 : partOf(values.share);

const jobs = jobsOf(share, values.only);
const total = jobs.reduce((sum, { count }) => sum + count, 0);
const started = performance.now();
let told = 0;
const surroundings = { stdout: process.stdout, stderr: process.stderr, environment: process.env };
const progress = await startProgress(surroundings, total, `${total} recordings`);
const worker = new URL('prove-worker.js', import.meta.url);
const done = await workTogether(jobs, worker, { seed, workers }, (recordings) => {
  progress.update(recordings);
  tell(recordings);
});
progress.stop();

const proof = proofOf(done, { seed, share });
const report = reportOf(proof);
const minutes = (performance.now() - started) / 60_000;
if (values.quick || values.only !== '') console.log(report);
else writeFileSync(join('docs', 'proof.md'), report);
console.log(`${recordingsIn(proof)} recordings in ${minutes.toFixed(1)} minutes, ${workers} workers.`);

/** Where no bar is drawn, a line for every tenth. */
function tell(recordings: number): void {
  const tenths = Math.floor((10 * recordings) / total);
  if (process.stderr.isTTY || tenths <= told) return;
  told = tenths;
  const minutes = (performance.now() - started) / 60_000;
  console.error(`${recordings} of ${total} recordings after ${minutes.toFixed(1)} minutes`);
}

function wholeNumber(option: string, text: string): number {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0 && value < 2 ** 31) return value;
  throw new RangeError(`${option} ${text}: write a whole number.`);
}

function partOf(text: string): number {
  const part = Number(text);
  if (part > 0 && part <= 1) return part;
  throw new Error(`--share ${text}: write a part from 0 to 1, as 0.5`);
}
