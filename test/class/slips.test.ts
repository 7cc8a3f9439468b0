import { describe, expect, test } from 'vitest';
import {
  type Assessment,
  assessSubmission,
  type Explanation,
  type MeasuredFacts,
  type StudentRecording,
  type SubmissionFacts,
  type SubmittedValue,
} from '../../src/class/index.ts';
import type { SubmittedQuantity } from '../../src/experiment/index.ts';
import { type Random, seededRandom } from '../../src/practice/random.ts';

/** A trial as a sheet holds it: 22 °C, heated to 95 °C in 20 s, then cooling. Its arithmetic is this file's own. */
function trial(random: Random, timeConstant: number): StudentRecording {
  const rate = 5;
  const ambient = 21 + 2 * random.uniform();
  const top = 92 + 6 * random.uniform();
  const [heatingFrom, heatOff] = [20, 40];
  const length = heatOff + 3.4 * timeConstant;
  const time: number[] = [];
  const temperature: number[] = [];
  let noise = 0;
  for (let i = 0; i < length * rate; i++) {
    const t = i / rate;
    noise = 0.9 * noise + 0.04 * random.normal();
    const clean =
      t < heatingFrom
        ? ambient
        : t < heatOff
          ? ambient + ((top - ambient) * (t - heatingFrom)) / (heatOff - heatingFrom)
          : ambient + (top - ambient) * Math.exp(-(t - heatOff) / timeConstant);
    time.push(t);
    temperature.push(clean + noise);
  }
  const hottest = temperature.indexOf(Math.max(...temperature));
  const before = temperature.slice(0, heatingFrom * rate);
  return {
    time,
    temperature,
    volts: temperature.map((celsius) => 4e-5 * celsius + 3e-8 * celsius ** 2),
    byType: null,
    readings: null,
    rate,
    ambient: before.reduce((sum, x) => sum + x, 0) / before.length,
    jet: null,
    room: 19.5,
    start: { time: time[hottest] ?? 0, temperature: temperature[hottest] ?? 0 },
    highest: temperature[hottest] ?? 0,
    heatingFrom,
    heatOff,
    window: [0.9, 0.1],
  };
}

/** How a value was come to, written down here once more: the slips of the search share none of this. */
interface Sheet {
  readonly ambient: number;
  readonly from: number;
  readonly log: (x: number) => number;
  readonly second: number;
  readonly invert: boolean;
  readonly level: number;
}

function worked(recording: StudentRecording, change: Partial<Sheet>): SubmittedValue[] {
  const sheet: Sheet = {
    ambient: recording.ambient,
    from: recording.start.time,
    log: Math.log,
    second: 1,
    invert: true,
    level: 1 / Math.E,
    ...change,
  };
  const step = recording.start.temperature - sheet.ambient;
  const points = Array.from(recording.time, (t, i) => ({
    t,
    x: (t - sheet.from) * sheet.second,
    g: ((recording.temperature[i] ?? 0) - sheet.ambient) / step,
  })).filter(({ t }) => t >= recording.start.time);
  const point = points.find(({ g }) => g <= sheet.level)?.x ?? null;
  const inside = points.filter(({ g }) => g < 0.9 && g > 0.1);
  const xy = inside.reduce((sum, { x, g }) => sum + x * sheet.log(g), 0);
  const xx = inside.reduce((sum, { x }) => sum + x * x, 0);
  const meanX = inside.reduce((sum, { x }) => sum + x, 0) / inside.length;
  const meanY = inside.reduce((sum, { g }) => sum + sheet.log(g), 0) / inside.length;
  const cxy = inside.reduce((sum, { x, g }) => sum + (x - meanX) * (sheet.log(g) - meanY), 0);
  const cxx = inside.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  const out = (slope: number) => (sheet.invert ? -1 / slope : -slope);
  const written = (quantity: SubmittedQuantity, value: number | null): SubmittedValue[] => {
    if (value === null) return [];
    const shown = Number(value.toPrecision(3));
    const rounding = 0.5 * 10 ** (Math.floor(Math.log10(Math.abs(value))) - 2);
    return [{ quantity, value: shown, rounding }];
  };
  return [
    ...written('point', point),
    ...written('origin', out(xy / xx)),
    ...written('intercept', out(cxy / cxx)),
  ];
}

const planted: readonly (readonly [code: string, change: (recording: StudentRecording) => Partial<Sheet>])[] =
  [
    ['ambient-not-subtracted', () => ({ ambient: 0 })],
    ['ambient-of-the-room', () => ({ ambient: 19.5 })],
    ['clock-from-file', () => ({ from: 0 })],
    ['clock-from-heating', () => ({ from: 20 })],
    ['base-ten', () => ({ log: Math.log10 })],
    ['slope-reported', () => ({ invert: false })],
    ['readings-as-seconds', ({ rate }) => ({ second: rate })],
    ['minutes', () => ({ second: 1 / 60 })],
    ['milliseconds', () => ({ second: 1000 })],
    ['complement-level', () => ({ level: 1 - 1 / Math.E })],
    ['half-level', () => ({ level: 0.5 })],
  ];

/** Narrow enough that every slip planted here shows. */
const narrow = { kind: 'percent', percent: 2.5, of: 'expected' } as const;

function assess(recording: StudentRecording, values: readonly SubmittedValue[]): Assessment {
  const measured: MeasuredFacts = { recording, standardUncertainties: {} };
  const facts: SubmissionFacts = { measured, predicted: null };
  return assessSubmission(facts, values, { point: narrow, origin: narrow, intercept: narrow });
}

function explain(recording: StudentRecording, values: readonly SubmittedValue[]): readonly Explanation[] {
  return assess(recording, values).explanations;
}

describe('the slip that gives what was handed in', () => {
  test.each(planted)('is found first: %s', (code, change) => {
    const random = seededRandom(code.length);
    let first = 0;
    const trials = 4;
    for (let i = 0; i < trials; i++) {
      const recording = trial(random, 8 + 60 * random.uniform());
      const [best] = explain(recording, worked(recording, change(recording)));
      if (best?.codes.join(' and ') === code) first += 1;
    }
    expect(first / trials).toBeGreaterThanOrEqual(0.95);
  });

  test('is found for two at once', () => {
    const random = seededRandom(77);
    let first = 0;
    const trials = 4;
    for (let i = 0; i < trials; i++) {
      const recording = trial(random, 8 + 60 * random.uniform());
      const values = worked(recording, { ambient: 0, log: Math.log10 });
      const [best] = explain(recording, values);
      if (best?.codes.includes('ambient-not-subtracted') && best.codes.includes('base-ten')) first += 1;
    }
    expect(first / trials).toBeGreaterThanOrEqual(0.9);
  });

  test('is none where the work is right', () => {
    const random = seededRandom(5);
    let accused = 0;
    const trials = 60;
    for (let i = 0; i < trials; i++) {
      const recording = trial(random, 8 + 60 * random.uniform());
      const { values, explanations } = assess(recording, worked(recording, {}));
      if (explanations.length > 0 || !values.every(({ state }) => state === 'within')) accused += 1;
    }
    expect(accused / trials).toBeLessThan(0.01);
  });

  test('is none that is known where the value comes from nowhere', () => {
    const recording = trial(seededRandom(6), 40);
    const { values, explanations, sentences } = assess(recording, [
      { quantity: 'origin', value: 3.21e9, rounding: 5e6 },
    ]);
    expect(values[0]).toMatchObject({ state: 'outside', slips: [] });
    expect(explanations).toEqual([]);
    expect(sentences[0]).toContain('No slip that is known gives the time constant through the origin');
  });
});
