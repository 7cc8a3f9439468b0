/**
 * Times `emberline class` as a whole process on a class of 1,000 recordings of one to two minutes at 100 Hz, made from
 * seeds: with nothing kept on one processor and on two, then again with nothing changed. From the root of the project:
 *
 *   npm run build && node build/bench-class-pool.js
 *
 * A number as argument changes how many recordings there are. Targets: two processors at least 1.8 times as fast as one;
 * again in under 1 s. A miss ends with status 1. The one processor is set aside by taskset, of Linux.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { plainTrial, simulateTrial } from '../test/support/trial.ts';

const count = Number(process.argv[2] ?? 1000);
const rate = 100;
const bodies = ['brass-12', 'brass-20', 'aluminium-12', 'aluminium-20'];
const flows = ['60', '120'];
const eachGroup = bodies.length * flows.length;
const groups = Math.ceil(count / eachGroup);
const folder = mkdtempSync(join(tmpdir(), 'emberline-class-pool-'));
const main = resolve('dist', 'main.js');
const repeats = 5;

const codes = Array.from({ length: groups }, (_, i) => `G${String(i + 1).padStart(3, '0')}`);
const sectionOf = (i: number) => `S${Math.floor(i / 10) + 1}`;

/** The experiment file of the example, with a class of this size. */
function writeExperiment(): void {
  const text = readFileSync(join('examples', 'thornwick', 'experiment.yaml'), 'utf8');
  const head = text.slice(0, text.indexOf('sections: [A, B, C]'));
  const sections = [...new Set(codes.map((_, i) => sectionOf(i)))];
  const benches = Array.from({ length: 10 }, (_, i) => `bench-${i + 1}`);
  const roster = codes.map(
    (code, i) => `  ${code}: { section: ${sectionOf(i)}, bench: ${benches[i % benches.length]} }`,
  );
  writeFileSync(
    join(folder, 'experiment.yaml'),
    `${head}
sections: [${sections.join(', ')}]
benches: [${benches.join(', ')}]
groups:
${roster.join('\n')}
recordings: "recordings/{section}/{group}/{body}_{flow}-{repeat}"
`,
  );
}

/** One recording, in the seconds and degrees of a plain text file. */
function writeRecording(i: number): void {
  const group = Math.floor(i / eachGroup);
  const k = i % eachGroup;
  const below = join(folder, 'recordings', sectionOf(group), codes[group] ?? '');
  mkdirSync(below, { recursive: true });
  const { temperature } = simulateTrial({
    ...plainTrial,
    rate,
    timeConstant: 8 + 2 * (k % bodies.length),
    coolingTimeConstants: 4,
    correlatedNoise: 0.1,
    seed: i + 1,
  });
  const lines = Array.from(temperature, (t, j) => `${(j / rate).toFixed(2)}\t${t.toFixed(3)}`);
  const name = `${bodies[k % bodies.length]}_${flows[Math.floor(k / bodies.length)]}-1.txt`;
  writeFileSync(join(below, name), `Time (s)\tTemperature (degC)\n${lines.join('\n')}\n`);
}

/** Seconds of one run of the command, alone on the first processor or on the first two. */
function run(processors: 1 | 2): number {
  const start = performance.now();
  const { status, stderr, error } = spawnSync(
    'taskset',
    ['-c', processors === 1 ? '0' : '0,1', process.execPath, main, 'class', folder, '--json'],
    { encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  if (error !== undefined) throw error;
  if (status !== 0 && status !== 1) throw new Error(stderr);
  return (performance.now() - start) / 1000;
}

function cold(processors: 1 | 2): number {
  rmSync(join(folder, 'results'), { recursive: true, force: true });
  return run(processors);
}

const said = (met: boolean) => (met ? 'met' : 'missed');

try {
  if (availableParallelism() < 2) throw new Error('There is one processor only: take a machine with two.');
  writeExperiment();
  for (let i = 0; i < count; i++) writeRecording(i);
  console.log(`${count} recordings of ${groups} groups`);
  const one = cold(1);
  const two = cold(2);
  const again = Array.from({ length: repeats }, () => run(2)).sort((a, b) => a - b);
  const middle = again[Math.floor(repeats / 2)] ?? Number.NaN;
  const ratio = one / two;
  console.log(`nothing kept, one processor: ${one.toFixed(2)} s`);
  console.log(`nothing kept, two processors: ${two.toFixed(2)} s`);
  console.log(`ratio: ${ratio.toFixed(2)} (at least 1.8: ${said(ratio >= 1.8)})`);
  console.log(
    `nothing changed: ${middle.toFixed(2)} s, median of ${repeats} (under 1 s: ${said(middle < 1)})`,
  );
  if (ratio < 1.8 || !(middle < 1)) process.exitCode = 1;
} finally {
  if (process.argv[3] === 'keep') console.log(folder);
  else rmSync(folder, { recursive: true });
}
