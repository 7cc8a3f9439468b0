/**
 * Times whole processes on a class of 1,000 recordings of one to two minutes at 100 Hz, made from seeds: with nothing
 * kept on one processor and on two, then again with nothing changed.
 *
 *   npm run bench-class
 *   npm run bench-class -- --count 200      fewer recordings, and one round
 *
 * The full run writes its part of docs/performance.md; a shorter one goes to the terminal only. A target that is missed
 * ends it with status 1. The processors are set aside by taskset, of Linux.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { makeClass } from './bench/class-folder.ts';
import {
  type ClassTimes,
  classSection,
  leastRatio,
  middle,
  mostAgain,
  ratioOf,
  withClassSection,
} from './bench/class-page.ts';

const full = 1000;
const { values } = parseArgs({ options: { count: { type: 'string' } } });
const count = Number(values.count ?? full);
if (!(Number.isInteger(count) && count >= 8 && count <= 10_000)) {
  throw new Error(`--count ${values.count}: give a number of recordings from 8 to 10000`);
}
if (availableParallelism() < 2) throw new Error('There is one processor only: take a machine with two.');

const rounds = count >= full ? 2 : 1;
const repeats = 5;
const page = 'docs/performance.md';
const folder = mkdtempSync(join(tmpdir(), 'emberline-class-pool-'));
const main = resolve('dist', 'main.js');

/** Seconds of one run of a command, alone on the first processor or on the first two. */
function run(processors: 1 | 2, words: readonly string[]): number {
  const start = performance.now();
  const { status, stderr, error } = spawnSync(
    'taskset',
    ['-c', processors === 1 ? '0' : '0,1', process.execPath, main, ...words],
    { encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  if (error !== undefined) throw error;
  if (status !== 0 && status !== 1) throw new Error(stderr);
  const seconds = (performance.now() - start) / 1000;
  console.error(`${words[0]} on ${processors}: ${seconds.toFixed(2)} s`);
  return seconds;
}

function cold(processors: 1 | 2): number {
  rmSync(join(folder, 'results'), { recursive: true, force: true });
  return run(processors, ['class', folder, '--json']);
}

try {
  const { groups, recordings } = makeClass(folder, count);
  const before = loadavg()[0] ?? 0;
  const some = recordings.slice(0, Math.min(200, count));
  const table = ['export', folder, '--to', join(folder, 'results.csv'), '--force'];
  const several = (words: readonly string[]) => Array.from({ length: repeats }, () => run(2, words));
  const times: ClassTimes = {
    recordings: count,
    groups,
    cold: Array.from({ length: rounds }, () => ({ one: cold(1), two: cold(2) })),
    classAgain: several(['class', folder, '--json']),
    exportAgain: several(table),
    analyze: {
      recordings: some.length,
      one: run(1, ['analyze', ...some, '--brief']),
      two: run(2, ['analyze', ...some, '--brief']),
    },
    load: [before, loadavg()[0] ?? 0],
  };
  const section = classSection(times);
  console.log(section);
  if (count === full) {
    writeFileSync(page, withClassSection(readFileSync(page, 'utf8'), section));
    console.error(`written: ${page}`);
  }
  const met = ratioOf(times.cold) >= leastRatio && middle(times.classAgain) < mostAgain;
  if (!met) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true });
}
