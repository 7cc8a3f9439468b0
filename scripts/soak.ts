/**
 * Watches benches that record for minutes, and holds lag, memory and load against what was promised. Run with
 * `npm run soak`; `--minutes 2`, `--benches 16` and `--rate 1000` take other figures. Nothing of it is on the network.
 */
import { fork } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { listCrew } from '../src/analysis/index.ts';
import { openFloor } from '../src/floor/index.ts';

/** What is promised. */
const most = { lag: 1, memory: 400e6, load: 0.5, growth: 1.15 };
/** Until then each bench still fills the blocks that it will keep, min. */
const steadyAfter = 5;
/** A trial is shown in no fewer blocks, once it has as many readings. */
const fewestBlocks = 1600;
/** Not counted: the programs start, s. */
const warmUp = 20;

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '10' },
    benches: { type: 'string', default: '16' },
    rate: { type: 'string', default: '1000' },
  },
});
const minutes = figure('--minutes', values.minutes, 60);
const benches = figure('--benches', values.benches, 64);
const rate = figure('--rate', values.rate, 10_000);

const folder = mkdtempSync(join(tmpdir(), 'emberline-soak-'));
writeFileSync(join(folder, 'experiment.yaml'), course(benches));

/** What a logger says of rows that it has just appended: time of the last, s, and moment, ms. */
interface Written {
  readonly path: string;
  readonly time: number;
  readonly at: number;
  readonly late: number;
}

/** How far each file was shown, s, and when, ms. */
const reached = new Map<string, { readonly time: number; readonly at: number }>();
/** Appended and not shown yet, by file. */
const waiting = new Map<string, { readonly time: number; readonly at: number }[]>();
const lags: number[] = [];
/** By how much the loggers were behind their own clock, s. */
const lateness: number[] = [];
const memory: number[] = [];

const worker = new URL('../dist/list-worker.js', import.meta.url);
const crew = existsSync(worker) ? listCrew(worker, 1) : null;
const floor = await openFloor({
  folder,
  clock: { now: () => Date.now() },
  ...(crew === null ? {} : { analyst: crew.analyst }),
});
floor.onChange((now) => {
  const shown = performance.timeOrigin + performance.now();
  for (const { path, trial } of now.benches) {
    if (path === null || trial === null) continue;
    const appended = waiting.get(path) ?? [];
    // The latest block stands at the mean of its times.
    const reach = trial.time * (1 + 0.5 / fewestBlocks);
    reached.set(path, { time: reach, at: shown });
    const left = appended.filter(({ time }) => time > reach);
    for (const { at } of appended.slice(0, appended.length - left.length)) {
      if (counting) lags.push((shown - at) / 1000);
    }
    waiting.set(path, left);
  }
});

let counting = false;
const writer = fork(
  fileURLToPath(new URL('soak-writer.js', import.meta.url)),
  ['--folder', folder, '--rate', String(rate)],
  { execArgv: [] },
);
writer.on('message', (message: Written) => {
  const { path, time, at, late } = message;
  if (counting) lateness.push(late);
  // A floor that is quick shows what a logger wrote before the logger has said so.
  const before = reached.get(path);
  if (before !== undefined && time <= before.time) {
    if (counting) lags.push(Math.max(0, before.at - at) / 1000);
    return;
  }
  waiting.set(path, [...(waiting.get(path) ?? []), { time, at }]);
});

await after(warmUp * 1000);
counting = true;
const loadBefore = process.cpuUsage();
const start = performance.now();
while (performance.now() - start < minutes * 60_000) {
  await after(1000);
  memory.push(process.memoryUsage().rss);
}
const { user, system } = process.cpuUsage(loadBefore);
const load = (user + system) / 1000 / (performance.now() - start);
const unseen = [...waiting].flatMap(([path, appended]) =>
  appended.filter(({ at }) => Date.now() - at > 5000).map(({ time }) => ({ path, time })),
);
const finished = floor.now().benches.reduce((sum, { trials }) => sum + trials.length, 0);
writer.kill();
await floor.close();
await crew?.close();
rmSync(folder, { recursive: true, force: true });

lags.sort((a, b) => a - b);
lateness.sort((a, b) => a - b);
const quantile = (part: number, of: readonly number[] = lags) => {
  return of[Math.min(of.length - 1, Math.floor(part * of.length))] ?? Number.NaN;
};
const middle = median(memory.slice(Math.floor(memory.length / 3), Math.floor((2 * memory.length) / 3)));
const last = median(memory.slice(Math.floor((2 * memory.length) / 3)));
const peak = Math.max(...memory);
const results = [
  ['lag, 99th percentile', `${quantile(0.99).toFixed(2)} s`, `${most.lag} s`, quantile(0.99) < most.lag],
  ['load, of one core', load.toFixed(2), `${most.load}`, load < most.load],
  ['memory, peak', megabytes(peak), megabytes(most.memory), peak < most.memory],
  ...(minutes < steadyAfter
    ? []
    : ([
        [
          'memory, last third to second',
          (last / middle).toFixed(2),
          `${most.growth}`,
          last < most.growth * middle,
        ],
      ] as const)),
  ['readings never shown', `${unseen.length}`, '0', unseen.length === 0],
] as const;
console.log(
  `${benches} benches at ${rate} Hz for ${minutes} min; ${lags.length} writes, ${finished} trials done`,
);
console.log(`lag: median ${quantile(0.5).toFixed(2)} s, longest ${quantile(1).toFixed(2)} s`);
console.log(
  `the loggers themselves were late by ${quantile(0.99, lateness).toFixed(2)} s (99th percentile): where that is much, this machine has other work`,
);
for (const [what, found, limit, kept] of results) {
  console.log(`${kept ? 'kept  ' : 'MISSED'}  ${what}: ${found} (at most ${limit})`);
}
for (const { path, time } of unseen.slice(0, 5)) {
  const shown = reached.get(path);
  console.log(`  ${path}: written up to ${time} s, shown up to ${shown?.time.toFixed(3) ?? 'nowhere'} s`);
}
process.exitCode = results.every(([, , , kept]) => kept) ? 0 : 1;

/** The course of the demo with so many benches, whose loggers write degrees. */
function course(count: number): string {
  const text = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  const codes = Array.from({ length: count }, (_, i) => i + 1);
  const groups = codes.map((code) => `  A${code}: { section: A, bench: bench-${code} }`);
  return text
    .replace(/^ {2}gain.*\n/gm, '')
    .replace(/^ {2}rate: .*$/m, `  rate: ${rate} Hz`)
    .replace(/^sections:.*$/m, 'sections: [A]')
    .replace(/^benches:.*$/m, `benches: [${codes.map((code) => `bench-${code}`).join(', ')}]`)
    .replace(/^groups:\n(?: {2}.*\n)+/m, `groups:\n${groups.join('\n')}\n`);
}

function figure(option: string, text: string, highest: number): number {
  const value = Number(text);
  if (value > 0 && value <= highest) return value;
  throw new Error(`${option}: write a number above 0 and up to ${highest}.`);
}

function median(sizes: readonly number[]): number {
  const sorted = sizes.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1e6)} MB`;
}
