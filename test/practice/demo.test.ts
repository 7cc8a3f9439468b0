import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { simulateRecording } from '../../src/practice/bench-trial.ts';
import { thornwickDemo } from '../../src/practice/demo.ts';
import type { PracticeRecording } from '../../src/practice/set-types.ts';
import { recordingBytes } from '../../src/practice/write-recording.ts';
import { readExperiment, readPracticeKey } from '../../src/store/index.ts';

const experiment = await readExperiment(join('examples', 'thornwick'));
const { course, reference } = thornwickDemo(experiment);

function hashOf({ source }: PracticeRecording): string {
  const hash = createHash('sha256');
  for (const bytes of recordingBytes(simulateRecording(source.trial))) hash.update(bytes);
  return hash.digest('hex');
}

function grouped(recordings: readonly PracticeRecording[], by: (one: PracticeRecording) => string) {
  const groups = new Map<string, PracticeRecording[]>();
  for (const one of recordings) groups.set(by(one), [...(groups.get(by(one)) ?? []), one]);
  return groups;
}

/** The bead of the last section at each bench, and a reference run: short, and all kinds of files. */
function sampleOf(demo: ReturnType<typeof thornwickDemo>): PracticeRecording[] {
  const beads = demo.course.recordings.filter(({ path }) => path.includes('/C/') && path.includes('bare'));
  return [...beads, ...demo.reference.runs.recordings.slice(0, 1)];
}

test('the same seed gives the same bytes, and those are what lies in the demo', async () => {
  const sample = sampleOf({ course, reference });
  expect(sample).toHaveLength(5);
  const hashes = sample.map(hashOf);
  expect(sampleOf(thornwickDemo(experiment)).map(hashOf)).toEqual(hashes);
  expect(new Set(hashes).size).toBe(5);
  const written = sample.map(({ path }) => {
    const bytes = readFileSync(join('demo', 'thornwick', path));
    return createHash('sha256').update(bytes).digest('hex');
  });
  expect(written).toEqual(hashes);
  const answers = join('demo', 'thornwick-answers');
  const keys = [await readPracticeKey(join(answers, 'key.json'), null)];
  keys.push(await readPracticeKey(join(answers, 'reference-key.json'), null));
  const keyed = keys.flatMap((key) => key.recordings);
  expect(sample.map(({ path }) => keyed.find((one) => one.path === path)?.sha256)).toEqual(hashes);
});

test('every group has five conditions, a bead among them, at a bench that writes in its own way', () => {
  const groups = grouped(course.recordings, ({ group }) => group.code);
  expect([...groups.keys()].sort()).toEqual(
    ['A', 'B', 'C'].flatMap((s) => [1, 2, 3, 4].map((n) => `${s}${n}`)),
  );
  for (const own of groups.values()) {
    expect(own).toHaveLength(5);
    expect(own.filter(({ condition }) => condition.body === 'bare-junction')).toHaveLength(1);
  }
  const logged = new Map(course.recordings.map(({ source }) => [source.trial.logger.bench, source.trial]));
  expect(new Set([...logged.values()].map(({ logger }) => logger.dialect)).size).toBe(4);
  expect(new Set([...logged.values()].map(({ chain }) => chain.output.kind))).toEqual(
    new Set(['volts', 'degrees']),
  );
});

test('about a fifth of the recordings have a fault, of many kinds', () => {
  const faults = course.recordings.flatMap((one) => one.faults.map(({ name }) => ({ name, one })));
  expect(faults.length).toBeGreaterThanOrEqual(10);
  expect(faults.length).toBeLessThanOrEqual(15);
  expect(new Set(faults.map(({ name }) => name)).size).toBeGreaterThanOrEqual(8);
  const [swapped = [], same = []] = (['swapped', 'same-file'] as const).map((wanted) => {
    return faults.filter(({ name }) => name === wanted).map(({ one }) => one);
  });
  expect(swapped).toHaveLength(2);
  expect(new Set(swapped.map(({ group }) => group.code)).size).toBe(1);
  expect(swapped[0]?.source.condition).toEqual(swapped[1]?.condition);
  expect(new Set(same.map(({ group }) => group.code)).size).toBe(2);
  expect(same[0]?.source.trial).toEqual(same[1]?.source.trial);
});

test('one bench loses heat transfer from week to week in one term, and no other does', () => {
  const { runs, drift } = reference;
  expect(runs.recordings).toHaveLength(40);
  const benches = grouped(runs.recordings, ({ path }) => path.split('/').slice(1, 3).join(' '));
  expect(benches.size).toBe(8);
  for (const [name, own] of benches) {
    const logs = own.map(({ source }) => Math.log(source.trial.air.coefficient));
    // Least squares over five weeks, which lie at -2 to 2 from their middle.
    const slope = logs.reduce((sum, log, i) => sum + (i - 2) * log, 0) / 10;
    const planted = name === `${drift.term} ${drift.bench}` ? Math.log(drift.factorPerWeek) : 0;
    // Set-ups scatter by 2 % and trials by 1 %: 0.7 % a week, and three times that among eight is no wonder.
    expect(Math.abs(slope - planted), name).toBeLessThan(0.021);
  }
  expect(drift.factorPerWeek).toBeLessThan(0.98);
});
