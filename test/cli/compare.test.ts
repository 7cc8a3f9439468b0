import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { loggerText, plainText } from '../support/text.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';
import { runCommand } from './run.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-compare-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const thornwick = join('demo', 'thornwick');
const thornwickText = readFileSync(join(thornwick, 'experiment.yaml'), 'utf8');
/** Two groups of the demo; of one recording the end is missing. */
const twoGroups = ['A1', 'A2'].flatMap((group) => {
  const place = join(thornwick, 'recordings', 'A', group);
  return readdirSync(place).map((name) => join(place, name));
});

const back = z.object({
  value: z.number(),
  standardUncertainty: z.number(),
  interval: z.tuple([z.number(), z.number()]),
});
const resultSchema = z.object({
  comparisons: z.array(
    z.object({
      condition: z.object({ body: z.string(), flow: z.string() }),
      measured: z.object({
        value: z.number(),
        relative: z.number(),
        scatter: z.number().nullable(),
        runs: z.array(z.object({ name: z.string(), timeConstant: z.number() })),
      }),
      predicted: z.object({ value: z.number() }).nullable(),
      comparison: z
        .object({
          ratio: z.number(),
          difference: z.number(),
          normalisedError: z.number(),
          verdict: z.enum(['agree', 'disagree', 'too-weak-to-tell']),
          // Null where no value above would be seen.
          smallestSeen: z.object({ above: z.number().nullable(), below: z.number() }),
          sentence: z.string(),
        })
        .nullable(),
      heatTransfer: z.object({ total: back, convection: back, nusselt: back }).nullable(),
      response: z.object({ t50: z.number(), t90: z.number(), cutoffFrequency: z.number() }),
    }),
  ),
  trends: z.array(
    z.object({
      material: z.string(),
      trends: z.array(z.object({ of: z.string(), sentence: z.string(), verdict: z.string() })),
    }),
  ),
  recordings: z.array(
    z.object({
      path: z.string(),
      verdict: z.string().nullable(),
      excluded: z.string().nullable(),
      copyOf: z.string().nullable(),
      notes: z.array(z.object({ code: z.string(), severity: z.string(), message: z.string() })),
    }),
  ),
  asked: z.array(z.object({ path: z.string(), message: z.string() })),
});

async function compared(...words: string[]) {
  const ran = await runCommand(['compare', ...words, '--json']);
  return { status: ran.status, ...resultSchema.parse(JSON.parse(ran.stdout)) };
}

function recordingText(timeConstant: number, seed: number): string {
  const settings = { ...plainTrial, seed, timeConstant, rate: 20, ambient: 20.5 };
  return loggerText([simulateTrial(settings).temperature], settings.rate, plainText);
}

/** A folder with repeats of known time constants. */
function experimentFolder(name: string, taus: Readonly<Record<string, readonly number[]>>): string {
  const path = join(folder, name);
  mkdirSync(join(path, 'recordings'), { recursive: true });
  const text = thornwickText.replace(/recordings: .*/, 'recordings: "recordings/{body}_{flow}-{repeat}"');
  writeFileSync(join(path, 'experiment.yaml'), text);
  for (const [condition, values] of Object.entries(taus)) {
    values.forEach((tau, i) => {
      writeFileSync(join(path, 'recordings', `${condition}-${i + 1}.txt`), recordingText(tau, i + 1));
    });
  }
  return path;
}

describe('compare', () => {
  test('prints one JSON object with measured, predicted, verdict and heat transfer', async () => {
    const { status, comparisons, recordings } = await compared(thornwick, ...twoGroups);
    // One of the recordings was stopped too early.
    expect(status).toBe(1);
    expect(recordings.filter(({ excluded }) => excluded !== null).map(({ path }) => path)).toEqual([
      'recordings/A/A2/brass-20_120-1.txt',
    ]);
    expect(comparisons).toHaveLength(5);
    for (const { measured, predicted, comparison } of comparisons) {
      expect(comparison?.ratio).toBeCloseTo(measured.value / (predicted?.value ?? Number.NaN), 10);
    }
  });

  test('prints tables within 80 columns', async () => {
    const { stdout } = await runCommand(['compare', thornwick, ...twoGroups]);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    for (const word of ['verdict', 'too weak to tell', 'back from tau', 'response', 'cut-off', 'repeat']) {
      expect(stdout).toContain(word);
    }
    expect(stdout).not.toMatch(/NaN|undefined|Infinity|null/);
    expect(stdout).toContain('of the rates 1/tau');
    // The explanation stands once, however many conditions there are.
    expect(stdout.split('confirms theory').length).toBeLessThanOrEqual(2);
  });

  test('puts repeats together and finds the trends that the recordings were made with', async () => {
    // tau in proportion to D^1.45 U^-0.55, about 15 % above theory; flows 1:2, diameters 12:20.
    const tau = (d: number, q: number) => 45 * (d / 12) ** 1.45 * (q / 120) ** -0.55;
    const course = experimentFolder('trend', {
      'brass-12_120': [tau(12, 120), tau(12, 120) * 1.01, tau(12, 120) * 0.99],
      'brass-12_60': [tau(12, 60), tau(12, 60) * 1.01],
      'brass-20_120': [tau(20, 120), tau(20, 120) * 0.99],
      'brass-20_60': [tau(20, 60), tau(20, 60) * 1.005],
    });
    const { status, comparisons, trends, asked } = await compared(course);
    expect(status).toBe(0);
    expect(asked).toEqual([]);
    const first = comparisons.find(
      ({ condition }) => condition.body === 'brass-12' && condition.flow === '120',
    );
    expect(first?.measured.runs).toHaveLength(3);
    expect(first?.measured.value).toBeCloseTo(45, 0);
    expect(first?.measured.scatter).toBeGreaterThan(0.008);
    expect(first?.measured.scatter).toBeLessThan(0.012);
    const [brass] = trends;
    expect(brass?.trends.map(({ of }) => of)).toEqual(['diameter', 'velocity']);
    const exponents = (brass?.trends ?? []).map(({ sentence }) => Number(/\((-?[\d.]+)/.exec(sentence)?.[1]));
    expect(exponents[0]).toBeCloseTo(1.45, 1);
    expect(exponents[1]).toBeCloseTo(-0.55, 1);
    const { stdout } = await runCommand(['compare', course]);
    expect(stdout.replaceAll(/\s+/g, ' ')).toContain('the trend holds although the level does not');
    // What was measured is planned with.
    const plan = await runCommand(['plan', course, '--measured']);
    expect(plan.stdout).toContain('measured; theory expects 39.4 s');
  });

  test('says what to look at where a measurement disagrees', async () => {
    const { stdout } = await runCommand(['compare', experimentFolder('off', { 'brass-12_120': [90] })]);
    expect(stdout.replaceAll(/\s+/g, ' ')).toContain('Look at the flow and the reference conditions');
  });

  test('asks about paths that do not fit, and goes on', async () => {
    const course = experimentFolder('asked', { 'brass-12_120': [40] });
    writeFileSync(join(course, 'recordings', 'run 7.txt'), recordingText(40, 3));
    const all = await compared(course);
    expect(all.status).toBe(1);
    expect(all.asked.map(({ path }) => path)).toEqual(['recordings/run 7.txt']);
    expect(all.comparisons).toHaveLength(1);
    const named = await compared(course, join(course, 'recordings', 'run 7.txt'));
    expect(named.status).toBe(2);
    const one = await compared(course, join(course, 'recordings', 'brass-12_120-1.txt'));
    expect(one.status).toBe(0);
  });

  test('names what cannot be read, and ends with 2', async () => {
    const course = experimentFolder('unread', { 'brass-12_120': [40] });
    writeFileSync(join(course, 'recordings', 'brass-12_60-1.txt'), 'no numbers at all\n');
    const { status, recordings, comparisons } = await compared(course);
    expect(status).toBe(2);
    expect(comparisons).toHaveLength(1);
    expect(recordings.find(({ verdict }) => verdict === null)?.path).toBe('recordings/brass-12_60-1.txt');
    const { stdout } = await runCommand(['compare', course]);
    expect(stdout).toContain('not read');
    expect(stdout).not.toContain('\\u000a');
    expect(stdout.split('brass-12_60-1.txt')).toHaveLength(2);
  });

  test('counts a copy once, and passes on cautions and what was to be left out', async () => {
    const course = experimentFolder('notes', { 'brass-12_120': [40], 'bare-junction_60': [42] });
    const original = join(course, 'recordings', 'brass-12_120-1.txt');
    cpSync(original, join(course, 'recordings', 'brass-12_120-2.txt'));
    // Above the limit of 140 °C of the spheres.
    const hot = loggerText(
      [simulateTrial({ ...plainTrial, timeConstant: 40, rate: 20, ambient: 20.5, peak: 150 }).temperature],
      20,
      plainText,
    );
    writeFileSync(join(course, 'recordings', 'brass-20_120-1.txt'), hot);
    const { status, recordings, comparisons } = await compared(course);
    expect(status).toBe(1);
    const of = (name: string) => recordings.find(({ path }) => path.endsWith(name));
    expect(of('brass-12_120-2.txt')?.copyOf).toBe('recordings/brass-12_120-1.txt');
    const brass = comparisons.find(({ condition }) => condition.body === 'brass-12');
    expect(brass?.measured.runs).toHaveLength(1);
    expect(of('bare-junction_60-1.txt')?.notes.map(({ code }) => code)).toContain('condition-left-out');
    expect(of('brass-20_120-1.txt')?.notes.map(({ code }) => code)).toContain('peak-over-limit');
    const { stdout } = await runCommand(['compare', course]);
    for (const word of ['[peak-over-limit]', '[condition-left-out]', 'copy  '])
      expect(stdout).toContain(word);
  });

  test('says that a file which was named is not there', async () => {
    const course = experimentFolder('missing', { 'brass-12_120': [40] });
    const { status, asked } = await compared(course, join(course, 'recordings', 'nothing.txt'));
    expect(status).toBe(2);
    expect(asked[0]?.message).toBe('There is no such file.');
  });

  test('has nothing to compare in a folder without recordings or pattern', async () => {
    const empty = join(folder, 'empty');
    mkdirSync(empty);
    cpSync(join(thornwick, 'experiment.yaml'), join(empty, 'experiment.yaml'));
    const nothing = await compared(empty);
    expect(nothing.status).toBe(2);
    expect(nothing.asked[0]?.message).toContain('recordings/{section}/{group}/{body}_{flow}-{repeat}');
    writeFileSync(join(empty, 'experiment.yaml'), thornwickText.replace(/recordings: .*/, ''));
    const { status, asked } = await compared(empty);
    expect(status).toBe(2);
    expect(asked[0]?.message).toContain('pattern');
  });
});
