import { describe, expect, test } from 'vitest';
import { type ChainChoices, taughtChain } from '../../src/class/chain-choices.ts';
import type { PredictedFacts, StudentRecording } from '../../src/class/index.ts';
import { measuredSlips } from '../../src/class/slips-measured.ts';
import { predictedSlips } from '../../src/class/slips-predicted.ts';
import { studentValues } from '../../src/class/student.ts';
import { chainCalculator } from '../../src/class/student-chain.ts';
import { type StudentChoices, taughtChoices } from '../../src/class/student-choices.ts';
import { groupSlips } from '../../src/practice/group-slips.ts';
import { ownMaterial, type PredictionInput, predict } from '../../src/prediction/index.ts';

/** An exponential of 12 s from 90 to 22 °C at 100 Hz, as long as asked for, behind some seconds of plateau. */
function cooling(change: Partial<StudentRecording> = {}, lasting = 120, before = 0): StudentRecording {
  const rate = 100;
  const tau = 12;
  const count = Math.round((before + lasting) * rate) + 1;
  const time = Array.from({ length: count }, (_, i) => i / rate);
  return {
    time,
    temperature: time.map((t) => 22 + 68 * Math.exp(-Math.max(0, t - before) / tau)),
    volts: null,
    byType: null,
    readings: null,
    rate,
    ambient: 22,
    jet: null,
    room: null,
    start: { time: before, temperature: 90 },
    highest: 90,
    heatingFrom: null,
    heatOff: before,
    window: [0.9, 0.1],
    ...change,
  };
}

interface Row {
  readonly name: string;
  readonly recording: StudentRecording;
  readonly choices: Partial<StudentChoices>;
  /** Relative change of the three time constants; null for one that comes to nothing, undefined for any. */
  readonly effect: readonly (number | null | undefined)[];
}

// Effects on a made-up cooling, derived with another program (common practice, no source).
const rows: readonly Row[] = [
  { name: 'T/T0 in °C', recording: cooling(), choices: { ambient: 'none' }, effect: [0.81, 3.9, 11] },
  {
    name: 'T/T0 in °F',
    recording: cooling(),
    choices: { ambient: 'none', scale: { kind: 'fahrenheit' } },
    effect: [null, 5.9, 18],
  },
  {
    name: 'T/T0 in K',
    recording: cooling(),
    choices: { ambient: 'none', scale: { kind: 'kelvin' } },
    effect: [null, 32, 173],
  },
  {
    name: 'ambient 1 % of the step too high',
    recording: cooling({ room: 22.68 }),
    choices: { ambient: 'room' },
    effect: [-0.017, -0.027, -0.036],
  },
  {
    name: 'ambient 5 % too high',
    recording: cooling({ room: 25.4 }),
    choices: { ambient: 'room' },
    effect: [-0.08, -0.12, -0.16],
  },
  {
    name: 'ambient 5 % too low',
    recording: cooling({ room: 18.6 }),
    choices: { ambient: 'room' },
    effect: [0.09, 0.18, 0.25],
  },
  {
    name: 'last reading at 3 tau',
    recording: cooling({}, 36),
    choices: { ambient: 'last' },
    effect: [undefined, -0.12, undefined],
  },
  {
    name: 'last reading at 4 tau',
    recording: cooling({}, 48),
    choices: { ambient: 'last' },
    effect: [undefined, -0.048, undefined],
  },
  {
    name: 'a spike of 5 % as the start',
    recording: cooling({ highest: 93.4 }),
    choices: { start: 'spike' },
    effect: [-0.049, -0.031, 0],
  },
  ...(
    [
      [0.1, 0.07],
      [1, 0.72],
      [5, 3.9],
    ] as const
  ).map(
    ([late, origin]): Row => ({
      name: `clock ${late} tau early`,
      recording: cooling({}, 120, 12 * late),
      choices: { clock: 'file' },
      effect: [late, origin, 0],
    }),
  ),
  ...(
    [
      [0.1, 0.066],
      [0.2, 0.134],
    ] as const
  ).map(
    ([late, origin]): Row => ({
      name: `plateau of ${late} tau kept`,
      recording: cooling({ start: { time: 0, temperature: 90 } }, 120, 12 * late),
      choices: {},
      effect: [late, origin, 0],
    }),
  ),
  {
    name: '63.2 % left',
    recording: cooling(),
    choices: { level: 1 - Math.exp(-1) },
    effect: [-0.54, 0, 0],
  },
  { name: '50 %', recording: cooling(), choices: { level: 0.5 }, effect: [-0.31, 0, 0] },
  { name: '10 %', recording: cooling(), choices: { level: 0.1 }, effect: [1.3, 0, 0] },
  { name: 'log10', recording: cooling(), choices: { logarithm: 'base-ten' }, effect: [0, 1.303, 1.303] },
  { name: 'readings as seconds', recording: cooling(), choices: { secondIs: 100 }, effect: [99, 99, 99] },
];

describe('the wrong calculation on a made-up cooling', () => {
  test.each(rows)('$name', ({ recording, choices, effect }) => {
    const { point, origin, intercept } = studentValues(recording, { ...taughtChoices, ...choices });
    [point, origin, intercept].forEach((value, i) => {
      const expected = effect[i];
      if (expected === undefined) return;
      if (expected === null) expect(value).toBeNull();
      else expect(Math.abs((value ?? 0) / 12 - 1 - expected)).toBeLessThan(0.002 + 0.05 * Math.abs(expected));
    });
  });

  test('gives 1/tau where the slope is reported, and rounds it as a chart does', () => {
    expect(studentValues(cooling(), { ...taughtChoices, report: 'slope' }).origin).toBeCloseTo(1 / 12, 6);
    // 0.0833 to 0.08: tau 12.5.
    expect(studentValues(cooling(), { ...taughtChoices, slopeDecimals: 2 }).origin).toBeCloseTo(12.5, 6);
  });
});

/** A steel sphere of 6.35 mm at 20 m/s behind a float meter at 10 psi over the room, in the units asked for. */
function steel(scale: PredictedFacts['scale']): PredictedFacts {
  const at = (reading: number): PredictionInput => ({
    room: { pressure: 101_325, temperature: 295.15, relativeHumidity: 0 },
    flow: {
      kind: 'jet',
      temperature: 295.15,
      relativeHumidity: 0,
      meter: {
        kind: 'variable-area',
        reading,
        reference: { pressure: 101_325, temperature: 294.26 },
        line: { pressure: { gaugePressure: 68_948 }, temperature: 294.26 },
      },
      // Where the jet has slowed down by a fifth.
      nozzle: { diameter: 0.01, standOff: 0.075, profileFactor: 1, decayConstant: 6 },
    },
    body: {
      shape: 'sphere',
      diameter: 6.35e-3,
      material: ownMaterial('steel', { density: 7900, specificHeat: 450, conductivity: 40 }),
      mass: null,
      emissivity: 0,
      wires: [],
    },
    cooling: { start: 363.15, window: { from: 0.9, to: 0.1 } },
    correlation: null,
  });
  const guess = predict(at(1e-3), { draws: 0 });
  const input = at((1e-3 * 20) / guess.velocity);
  return {
    input,
    prediction: predict(input, { draws: 0 }),
    accuracy: { relative: 0.3, coverageFactor: 2 },
    scale,
    readingHasLimits: false,
  };
}

const bare: ChainChoices = { ...taughtChain, losses: 'none', coefficient: 'convection' };
const litresPerMinute = { volume: 1e-3, time: 60 };
const cubicFeetPerHour = { volume: 0.0283, time: 3600 };

// tau over the right one, derived with Whitaker's correlation (common practice, no source).
const factors = [
  ['radius-for-diameter', litresPerMinute, 0.36],
  ['diameter-doubled', litresPerMinute, 2.7],
  ['radius-for-volume-to-area', litresPerMinute, 3],
  ['diameter-for-volume-to-area', litresPerMinute, 6],
  ['projected-area', litresPerMinute, 4],
  ['millimetres-as-inches', litresPerMinute, 103],
  ['inches-as-millimetres', litresPerMinute, 0.008],
  ['hour-for-second', cubicFeetPerHour, 0.008],
  ['minute-for-second', litresPerMinute, 0.1],
  ['hour-for-minute', cubicFeetPerHour, 0.1],
  ['minute-for-hour', litresPerMinute, 7.3],
  ['cubic-feet', cubicFeetPerHour, 0.13],
  ['nozzle-area-pi-d-squared', litresPerMinute, 2.1],
  ['film-properties', litresPerMinute, 0.99],
  ['viscosity-ratio-left-out', litresPerMinute, 0.98],
  ['viscosity-ratio-inverted', litresPerMinute, 0.96],
  ['decay-left-out', litresPerMinute, 0.89],
  ['pressure-correction-left-out', litresPerMinute, 1.15],
] as const;

describe('the wrong calculation of a steel sphere in a jet', () => {
  const calculate = chainCalculator();

  test('is right where nothing is wrong', () => {
    const facts = steel(litresPerMinute);
    const values = calculate(facts, { ...taughtChain, inside: 'first-mode' });
    const { prediction } = facts;
    expect(values.reynolds).toBeCloseTo(prediction.reynolds, 6);
    expect((values.predicted ?? 0) / prediction.timeConstant.value).toBeCloseTo(1, 3);
    expect((values.biot ?? 0) / prediction.biot.volumeToArea).toBeCloseTo(1, 3);
    const expanded = values['predicted-expanded-uncertainty'] ?? 0;
    expect(expanded / (2 * prediction.timeConstant.standardUncertainty)).toBeCloseTo(1, 3);
  });

  test.each(factors)('%s', (code, scale, factor) => {
    const facts = steel(scale);
    const made = predictedSlips.find((slip) => slip.code === code)?.apply(bare, facts) ?? null;
    expect(made).not.toBeNull();
    const right = calculate(facts, bare).predicted ?? 0;
    const wrong = made === null ? 0 : (calculate(facts, made).predicted ?? 0);
    expect(Math.abs(wrong / right / factor - 1)).toBeLessThan(factor < 0.02 || factor > 50 ? 0.1 : 0.05);
  });

  test('the gauge for the absolute pressure: the root of the ratio of both', () => {
    const facts = steel(litresPerMinute);
    const made = predictedSlips.find(({ code }) => code === 'gauge-for-absolute')?.apply(bare, facts) ?? bare;
    const [right, wrong] = [calculate(facts, bare).reynolds ?? 0, calculate(facts, made).reynolds ?? 0];
    expect(right / wrong).toBeCloseTo(Math.sqrt((68_948 + 101_325) / 68_948), 2);
  });

  test('the Biot number with the diameter is six times as large, and tau as it was', () => {
    const facts = steel(litresPerMinute);
    const made = { ...bare, biotLength: 'diameter' } as const;
    const [right, wrong] = [calculate(facts, bare), calculate(facts, made)];
    expect((wrong.biot ?? 0) / (right.biot ?? 1)).toBeCloseTo(6, 9);
    expect(wrong.predicted).toBe(right.predicted);
  });
});

describe('the catalogue', () => {
  const codes = [...measuredSlips, ...predictedSlips].map(({ code }) => code);

  test('has each slip once, and every one that simulated groups make', () => {
    expect(new Set(codes).size).toBe(codes.length);
    for (const name of Object.keys(groupSlips)) expect(codes).toContain(name);
  });
});
