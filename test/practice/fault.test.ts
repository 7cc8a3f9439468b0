import { describe, expect, test } from 'vitest';
import { type Condition, conditionName } from '../../src/experiment/index.ts';
import {
  type BenchReadings,
  type FaultName,
  faultNames,
  faults,
  PracticeError,
  type PracticeRecording,
  practiceSet,
  recordingBytes,
  simulateRecording,
} from '../../src/practice/index.ts';
import { experimentOf, templateWith } from '../experiment/read.ts';
import { plainWishes, templateExperiment } from './wishes.ts';

const template = templateExperiment();
const one: readonly Condition[] = [{ body: 'aluminium-8', flow: '120' }];
const two: readonly Condition[] = [...one, { body: 'aluminium-12', flow: '120' }];
const degrees = experimentOf(templateWith(['  gain: 200', '  # none']));

interface Pair {
  readonly clean: BenchReadings;
  readonly spoiled: BenchReadings;
  readonly numbers: Readonly<Record<string, number | string>>;
}

function pair(name: FaultName, seed: string, experiment = template): Pair {
  const wishes = { ...plainWishes, seed, groups: 1, conditions: one };
  const [clean] = practiceSet(experiment, wishes).recordings;
  const [spoiled] = practiceSet(experiment, { ...wishes, faults: [{ name, group: null }] }).recordings;
  if (clean === undefined || spoiled === undefined) throw new Error('there is no recording');
  expect(spoiled.faults.map((fault) => fault.name)).toEqual([name]);
  return {
    clean: simulateRecording(clean.source.trial),
    spoiled: simulateRecording(spoiled.source.trial),
    numbers: spoiled.faults[0]?.numbers ?? {},
  };
}

function number(numbers: Pair['numbers'], name: string): number {
  const value = numbers[name];
  if (typeof value !== 'number') throw new Error(`no number ${name}`);
  return value;
}

function text(readings: BenchReadings): string {
  return Buffer.concat([...recordingBytes(readings)]).toString('latin1');
}

const seeds = ['p', 'q'];

describe('each fault does what it says', () => {
  test.each(seeds)('baseline-short, seed %s', (seed) => {
    const { spoiled, clean } = pair('baseline-short', seed);
    expect(spoiled.truth.heatOn).toBeLessThanOrEqual(0.4 * 15);
    expect(spoiled.truth.timeConstant).toBeCloseTo(clean.truth.timeConstant ?? 0, 1);
  });

  test.each(seeds)('zero-drifted, seed %s', (seed) => {
    const { spoiled, clean, numbers } = pair('zero-drifted', seed);
    expect(spoiled.junction).toEqual(clean.junction);
    // Read back from the last readings by the sensitivity of type T near 25 °C, 40.7 µV/K (IEC 60584-1), and the gain.
    const last = (readings: BenchReadings) => readings.logged.slice(-20).reduce((sum, x) => sum + x, 0) / 20;
    const drift = (last(spoiled) - last(clean)) / (200 * 40.7e-6);
    expect(drift / number(numbers, 'drift over the recording, K')).toBeCloseTo(1, 0);
    expect(Math.abs(drift)).toBeGreaterThan(0.04 * 74);
  });

  test.each(seeds)('jet-off, seed %s', (seed) => {
    const { spoiled, clean } = pair('jet-off', seed);
    expect(spoiled.truth.timeConstant ?? 0).toBeGreaterThan(3 * (clean.truth.timeConstant ?? 0));
    expect(spoiled.truth.endFraction).toBeGreaterThan(0.3);
  });

  test.each(seeds)('jet-changed, seed %s', (seed) => {
    const { spoiled, numbers } = pair('jet-changed', seed);
    const at = number(numbers, 'at, s');
    const factor = number(numbers, 'factor of the coefficient');
    const { rate } = spoiled.trial.logger;
    const excess = (time: number) =>
      (spoiled.junction[Math.round(time * rate)] ?? 0) - spoiled.truth.coolingAir;
    const slope = (time: number) => Math.log(excess(time) / excess(time + 3)) / 3;
    // Radiation and the lag of the junction keep the ratio from being the factor itself.
    expect(slope(at + 3) / slope(at - 3.5) / factor).toBeGreaterThan(0.8);
    expect(slope(at + 3) / slope(at - 3.5) / factor).toBeLessThan(1.3);
    expect(excess(at) / excess(spoiled.truth.heatOff)).toBeGreaterThan(0.35);
  });

  test.each(seeds)('heated-twice, seed %s', (seed) => {
    const { spoiled, clean, numbers } = pair('heated-twice', seed);
    const { rate } = spoiled.trial.logger;
    const ambient = spoiled.trial.air.ambient;
    const excessAt = (time: number) => (spoiled.junction[Math.round(time * rate)] ?? 0) - ambient;
    const first = excessAt(number(numbers, 'first heating ends, s') + 1);
    const between = excessAt(number(numbers, 'second begins, s'));
    expect(between).toBeLessThan(0.75 * first);
    expect(first).toBeGreaterThan(20);
    expect(spoiled.truth.peak).toBeCloseTo(clean.truth.peak, -1);
  });

  test.each(seeds)('over-limit, seed %s', (seed) => {
    const { spoiled, numbers } = pair('over-limit', seed);
    expect(spoiled.truth.peak).toBeGreaterThan(number(numbers, 'limit, degC') + 4);
    expect(spoiled.truth.peak).toBeLessThan(170);
  });

  test.each(seeds)('stopped-early, seed %s', (seed) => {
    const { spoiled } = pair('stopped-early', seed);
    expect(spoiled.truth.endFraction).toBeGreaterThan(0.28);
    expect(spoiled.truth.endFraction).toBeLessThan(0.7);
  });

  test.each(seeds)('clipped, seed %s', (seed) => {
    for (const experiment of [template, degrees]) {
      const { spoiled, clean } = pair('clipped', seed, experiment);
      const top = Math.max(...spoiled.logged);
      const held = spoiled.logged.filter((value) => value >= top - 1e-9).length;
      expect(top).toBeLessThan(Math.max(...clean.logged));
      expect(held / spoiled.trial.logger.rate).toBeGreaterThan(2);
      expect(spoiled.junction).toEqual(clean.junction);
    }
  });

  test.each(seeds)('wrong-thermocouple, seed %s', (seed) => {
    for (const experiment of [template, degrees]) {
      const { spoiled, clean } = pair('wrong-thermocouple', seed, experiment);
      const span = ({ logged }: BenchReadings) => Math.max(...logged) - (logged[0] ?? 0);
      expect(Math.abs(span(spoiled) / span(clean) - 1)).toBeGreaterThan(0.08);
      expect(spoiled.junction).toEqual(clean.junction);
    }
  });

  test.each(seeds)('wrong-rate, seed %s', (seed) => {
    const { spoiled, numbers } = pair('wrong-rate', seed);
    const stated = number(numbers, 'stated rate, Hz');
    expect([1, 5, 20, 100]).toContain(stated);
    expect(text(spoiled).replaceAll('\u0000', '')).toContain(`${stated} Hz`);
  });

  test.each(seeds)('melted-adhesive, seed %s', (seed) => {
    const { spoiled, clean, numbers } = pair('melted-adhesive', seed);
    const tau = clean.truth.timeConstant ?? 0;
    const i = Math.round((clean.truth.heatOff + tau) * clean.trial.logger.rate);
    const excess = (readings: BenchReadings) => (readings.junction[i] ?? 0) - readings.truth.coolingAir;
    // Long after the change a sensor that lags by l behind exp(-t/tau) is warmer by tau/(tau - l).
    expect(excess(spoiled) / excess(clean)).toBeGreaterThan(1 + (0.5 * number(numbers, 'lag, s')) / tau);
  });

  test.each(seeds)('spreadsheet-resaved, seed %s', (seed) => {
    const { spoiled } = pair('spreadsheet-resaved', seed);
    expect(text(spoiled).split('\r\n').at(-2)).toMatch(/\d,\d+;*$/);
  });
});

function groupsWith(name: FaultName): readonly PracticeRecording[] {
  return practiceSet(template, {
    ...plainWishes,
    groups: 3,
    conditions: two,
    faults: [{ name, group: null }],
  }).recordings;
}

describe('faults of two recordings', () => {
  test('swapped: labels of one group are exchanged, and each file is the other', () => {
    const recordings = groupsWith('swapped');
    const found = recordings.filter((recording) => recording.faults.length > 0);
    expect(found).toHaveLength(2);
    const [a, b] = found;
    expect(a?.group.code).toBe(b?.group.code);
    expect(a && conditionName(a.source.condition)).toBe(b && conditionName(b.condition));
    expect(b && conditionName(b.source.condition)).toBe(a && conditionName(a.condition));
    expect(a?.faults[0]?.numbers['with']).toBe(b?.path);
  });

  test('same-file: two groups have the same bytes', () => {
    const found = groupsWith('same-file').filter((recording) => recording.faults.length > 0);
    expect(found).toHaveLength(2);
    const [a, b] = found;
    expect(a?.group.code).not.toBe(b?.group.code);
    expect(a && conditionName(a.condition)).toBe(b && conditionName(b.condition));
    expect(a?.source).toEqual(b?.source);
  });
});

describe('planting', () => {
  test('by chance touches the wanted part, at most one fault each, of many kinds', () => {
    const made = practiceSet(template, { ...plainWishes, groups: 12, faultShare: 0.4 }).recordings;
    const spoiled = made.filter((recording) => recording.faults.length > 0);
    expect(spoiled).toHaveLength(Math.round(0.4 * made.length));
    expect(Math.max(...made.map((recording) => recording.faults.length))).toBe(1);
    const kinds = new Set(spoiled.flatMap((recording) => recording.faults.map(({ name }) => name)));
    expect(kinds.size).toBeGreaterThan(10);
    // What is untouched is as in the clean set, but for the time of day.
    const clean = practiceSet(template, { ...plainWishes, groups: 12 }).recordings;
    for (const [i, recording] of made.entries()) {
      if (recording.faults.length === 0) {
        expect(recording.source.inputs).toEqual(clean[i]?.source.inputs);
        expect(recording.source.trial.heatings).toEqual(clean[i]?.source.trial.heatings);
      }
    }
  });

  test('can spoil all, and none', () => {
    const share = (faultShare: number) => {
      const { recordings } = practiceSet(template, { ...plainWishes, faultShare });
      return recordings.filter((recording) => recording.faults.length > 0).length / recordings.length;
    };
    expect(share(1)).toBe(1);
    expect(share(0)).toBe(0);
  });

  test('goes into the group that was asked for', () => {
    const wish = { name: 'clipped', group: 'B1' } as const;
    const { recordings } = practiceSet(template, { ...plainWishes, faults: [wish, wish] });
    const spoiled = recordings.filter((recording) => recording.faults.length > 0);
    expect(spoiled.map((recording) => recording.group.code)).toEqual(['B1', 'B1']);
  });

  test('says why it cannot', () => {
    const why = (name: FaultName, group: string | null, experiment = template) => {
      try {
        practiceSet(experiment, { ...plainWishes, groups: 1, conditions: one, faults: [{ name, group }] });
      } catch (error) {
        if (error instanceof PracticeError) return error.message;
        throw error;
      }
      return 'planted';
    };
    expect(why('same-file', null)).toContain('no other group');
    expect(why('swapped', null)).toContain('no group has two recordings');
    expect(why('clipped', 'Z9')).toContain('Z9, which is not in this set');
    const unlimited = experimentOf(
      templateWith(['  limit: 140 degC                   # no body', '  # no body']).replaceAll(
        '    limit: 140 degC\n',
        '',
      ),
    );
    expect(why('over-limit', null, unlimited)).toContain('states no limit');
  });

  test('is told of every fault', () => {
    expect(faults.map(({ name }) => name)).toEqual([...faultNames]);
    for (const { about } of faults) expect(about.length).toBeGreaterThan(20);
  });
});
