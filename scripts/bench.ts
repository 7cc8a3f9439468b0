/**
 * Measures `emberline analyze` side by side with other means of the classroom analysis, and with reading the bytes
 * alone, and writes docs/performance.md:
 *
 *   npm run bench
 *   npm run bench -- --quick            few runs, up to 6 million samples
 *   npm run bench -- --sizes 0.1,6      million samples
 *
 * EMBERLINE_BENCH_NODES=<node>:<node> adds rows for other versions of Node.
 *
 * Without all sizes or all runs, the page goes to the terminal only.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { largeTrial } from '../bench/large-trial.ts';
import { classSectionIn, withClassSection } from './bench/class-page.ts';
import { type Comparison, compare } from './bench/compare.ts';
import { gnuTime, measured, summaryOf } from './bench/measure.ts';
import { performancePage, type StartUp } from './bench/page.ts';
import { findPeers, otherNodes } from './bench/peers.ts';

const { values } = parseArgs({ options: { quick: { type: 'boolean' }, sizes: { type: 'string' } } });
const quick = values.quick ?? false;
const usual = quick ? [0.1, 1, 6] : [0.1, 1, 6, 36];
const sizes = values.sizes?.split(',').map(Number) ?? usual;
if (sizes.some((millions) => !(millions >= 0.1 && millions <= 100))) {
  throw new Error(`--sizes ${values.sizes}: give million samples from 0.1 to 100, as 0.1,6`);
}
/** Fewer runs of what takes long. */
const runsFor = (millions: number) => (quick ? 3 : millions > 10 ? 3 : 7);

const main = resolve('dist', 'main.js');
const own = { name: 'emberline analyze', words: [process.execPath, main, 'analyze', '--json'] };
const again = otherNodes([main, 'analyze', '--json']);
const bare = [
  {
    name: 'parsing alone, one core',
    words: [process.execPath, resolve('bench', 'peers', 'parse-alone.mjs')],
  },
  { name: 'reading alone: cat', words: ['cat'] },
];

const loadBefore = loadavg()[0] ?? 0;
const { found, missing } = findPeers();
for (const { name, versions } of found) console.error(`found ${name}: ${versions}`);
for (const what of missing) console.error(`not found, left out: ${what}`);
if (gnuTime === null) console.error('GNU time is not there: memory is not measured (apt-get install time)');

const comparisons: Comparison[] = [];
for (const millions of sizes) {
  console.error(`${millions} million samples, ${runsFor(millions)} runs each`);
  comparisons.push(await compare(millions, runsFor(millions), own, again, found, bare));
}

async function startUp(
  what: string,
  words: readonly string[],
  command: string,
  target: string,
  node = process.execPath,
): Promise<StartUp> {
  const runs = [];
  for (let i = 0; i < (quick ? 5 : 15); i++) runs.push(await measured([node, main, ...words], [0, 1]));
  return { what, command, target, summary: summaryOf(runs) };
}

const small = largeTrial(0.01);
const nodes = [
  { version: '', program: process.execPath },
  ...again.map(({ versions, words }) => ({
    version: `, ${versions}`,
    program: words[0] ?? process.execPath,
  })),
];
const startUps: StartUp[] = [];
for (const { version, program } of nodes) {
  startUps.push(
    await startUp(`help${version}`, ['--help'], 'emberline --help', '150 ms', program),
    await startUp(`10 000 samples${version}`, ['analyze', small], 'emberline analyze', '300 ms', program),
  );
}

const page = performancePage({
  command: 'npm run bench',
  own: own.name,
  loadBefore,
  comparisons,
  startUps,
  peers: found,
  missing,
});
console.log(page);
if (!quick && values.sizes === undefined) {
  const path = 'docs/performance.md';
  // The part about a class has a command of its own.
  writeFileSync(path, withClassSection(page, classSectionIn(readFileSync(path, 'utf8'))));
  console.error('written: docs/performance.md');
}
