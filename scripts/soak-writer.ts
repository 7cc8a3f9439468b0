/** Loggers for `npm run soak`, in a process of their own: simulated trials back to back on every bench. */
import { appendFileSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { type PracticeRecording, practiceSet, simulateRecording } from '../src/practice/index.ts';
import { readExperiment } from '../src/store/index.ts';

/** A logger writes so often, ms. */
const every = 100;
/** Benches begin so long after each other, and rest so long between trials, s. */
const stagger = 2;
const rest = 3;

const { values } = parseArgs({
  options: { folder: { type: 'string', default: '' }, rate: { type: 'string', default: '1000' } },
});
const rate = Number(values.rate);
const experiment = await readExperiment(values.folder);
const { recordings } = practiceSet(experiment, {
  seed: 'soak',
  groups: experiment.benches.length,
  repeats: null,
  conditions: null,
  rate,
  faults: [],
  faultShare: 0.1,
  date: '2026-03-02',
  exercise: false,
});

/** One bench with the trials that it has before it. */
class Logger {
  readonly #trials: readonly PracticeRecording[];
  #next = 0;
  #begins: number;
  #readings: Float64Array | null = null;
  #written = 0;

  constructor(bench: string, begins: number) {
    this.#trials = recordings.filter(({ group }) => group.bench === bench);
    this.#begins = begins;
  }

  /** @param now s since the start */
  write(now: number): void {
    const trial = this.#trials[this.#next];
    if (trial === undefined || now < this.#begins) return;
    const file = join(values.folder, trial.path);
    if (this.#readings === null) {
      mkdirSync(dirname(file), { recursive: true });
      this.#readings = simulateRecording(trial.source.trial).logged;
      this.#written = 0;
      this.#begins = now;
      appendFileSync(file, 'Time (s)\tT (degC)\r\n');
      return;
    }
    const readings = this.#readings;
    const until = Math.min(readings.length, Math.floor((now - this.#begins) * rate));
    if (until <= this.#written) return;
    let text = '';
    for (let i = this.#written; i < until; i++) {
      text += `${(i / rate).toFixed(3)}\t${(readings[i] ?? 0).toFixed(3)}\r\n`;
    }
    appendFileSync(file, text);
    const at = performance.timeOrigin + performance.now();
    process.send?.({ path: trial.path, time: (until - 1) / rate, at, late });
    this.#written = until;
    if (until < readings.length) return;
    this.#readings = null;
    this.#next += 1;
    this.#begins = now + rest;
  }
}

const start = performance.now();
const loggers = experiment.benches.map((bench, i) => new Logger(bench, stagger * i));
/** By how much this process is behind its clock, s: where it is, the machine is too busy to be measured on. */
let late = 0;
let before = start;
setInterval(() => {
  late = Math.max(0, (performance.now() - before - every) / 1000);
  before = performance.now();
  for (const logger of loggers) logger.write((performance.now() - start) / 1000);
}, every);
process.on('disconnect', () => process.exit());
