import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { timeConstantBound } from '../scripts/prove/bound.ts';
import { type Desk, openDesk } from '../scripts/prove/desk.ts';
import { scenarios } from '../scripts/prove/jobs.ts';
import { averageOf, efficiencyOf, rateOf } from '../scripts/prove/rates.ts';
import { coverageOf, errorsOf, type Tried } from '../scripts/prove/summary.ts';
import { cleanRate, verdictOn } from '../scripts/prove/targets.ts';
import { tryRecording } from '../scripts/prove/try-recording.ts';

/** Kinds of `npm run prove` that take little time, with their number of recordings here. */
const lumpedKinds = ['5 s moderate', '12 s volts', '12 s short', '40 s 10 Hz', '100 s 10 Hz'];
const perKind = 14;
const detected = ['Bi 0.3', '10 % rod'];
const perDetected = 6;
const seed = 7;
/** Slow enough to write quickly, Hz. */
const rate = 20;

let desk: Desk;
const tried = new Map<string, Tried>();

async function tryKind(name: string, recordings: number): Promise<void> {
  const number = scenarios.findIndex((one) => one.name === name);
  const found = scenarios[number];
  if (found === undefined) throw new Error(`there is no scenario ${name}`);
  const scenario = { ...found, rate: Math.min(rate, found.rate) };
  const outcomes = [];
  for (let recording = 0; recording < recordings; recording++) {
    outcomes.push(await tryRecording(desk, scenario, { scenario: number, recording }, seed));
  }
  tried.set(name, { scenario, outcomes });
}

function triedOf(names: readonly string[]): Tried[] {
  return names.flatMap((name) => tried.get(name) ?? []);
}

beforeAll(async () => {
  desk = openDesk();
  for (const name of lumpedKinds) await tryKind(name, perKind);
  for (const name of detected) await tryKind(name, perDetected);
}, 120_000);

afterAll(() => desk.close());

describe(`a part of the proof: ${lumpedKinds.length * perKind} recordings from text to interval`, () => {
  test('every one of them is read and has a time constant', () => {
    const outcomes = triedOf(lumpedKinds).flatMap((one) => one.outcomes);
    expect(outcomes).toHaveLength(lumpedKinds.length * perKind);
    expect(outcomes.filter(({ found, truth }) => found !== null && truth !== null)).toHaveLength(
      outcomes.length,
    );
  });

  test('the 95 % intervals hold the true time constant', () => {
    // Of 70 intervals that cover with 95 %, fewer than 61 hold the truth once in 500 times.
    const coverage = coverageOf(triedOf(lumpedKinds).flatMap((one) => one.outcomes));
    expect(coverage.count).toBeGreaterThanOrEqual(61);
  });

  test('the time constants are not biased', () => {
    const errors = errorsOf(triedOf(lumpedKinds).flatMap((one) => one.outcomes));
    const bias = averageOf(errors.map(({ error, uncertainty }) => error / uncertainty));
    // A fifth, and twice the scatter of the mean of 70.
    expect(Math.abs(bias.value)).toBeLessThan(0.2 + 2 / Math.sqrt(errors.length));
  });

  test('the error is not much larger than the bound allows', () => {
    const errors = errorsOf(triedOf(lumpedKinds).flatMap((one) => one.outcomes)).flatMap(
      ({ error, bound }) => (bound === null ? [] : [error / bound.used]),
    );
    expect(errors.length).toBeGreaterThan(50);
    expect(efficiencyOf(errors).value).toBeGreaterThan(0.6);
  });

  test('nothing is said against clean recordings', () => {
    expect(cleanRate(triedOf(lumpedKinds)).value).toBeGreaterThan(0.85);
  });

  test('a body with a temperature profile and a stem are not taken for first order', () => {
    for (const { outcomes } of triedOf(detected)) {
      expect(outcomes.filter(({ firstOrder }) => firstOrder === false).length).toBeGreaterThanOrEqual(
        perDetected - 1,
      );
    }
  });
});

describe('the yardsticks of the proof', () => {
  test('the interval of a rate is Wilson’s', () => {
    // Newcombe, R. G., Statistics in Medicine 17 (1998) 857-872, table I, method 3; figures from memory.
    const rows = [
      [81, 263, 0.2553, 0.3662],
      [15, 148, 0.0624, 0.1605],
      [0, 20, 0, 0.1611],
      [1, 29, 0.0061, 0.1718],
    ] as const;
    for (const [count, of, low, high] of rows) {
      expect(rateOf(count, of).low).toBeCloseTo(low, 4);
      expect(rateOf(count, of).high).toBeCloseTo(high, 4);
    }
  });

  test('the bound of white noise with a known level is that of linear regression', () => {
    // With the level known, information of ln tau and amplitude: integrals of x² e^(−2x), x e^(−2x), e^(−2x).
    const design = {
      timeConstant: 10,
      step: 50,
      from: 0,
      to: 200,
      baseline: 4e3,
      heating: 20,
      rate: 50,
      white: 0.1,
      correlated: [],
      offset: 1e-9,
      drift: 1e-12,
    };
    // Over an endless cooling they are 1/4, 1/4 and 1/2, so the information of ln tau is n (1/4 − 1/8) step²/white².
    const expected = design.white / design.step / Math.sqrt(design.rate * design.timeConstant * (1 / 8));
    expect(timeConstantBound(design) / expected).toBeCloseTo(1, 2);
  });

  test('correlated noise counts as white noise of its long-run variance where it is quick', () => {
    const design = {
      timeConstant: 40,
      step: 90,
      from: 0,
      to: 160,
      baseline: 20,
      heating: 40,
      rate: 200,
      white: 0.01,
      offset: 0.3,
      drift: 0.5 / 600,
    };
    const quick = { standardDeviation: 0.3, correlationTime: 0.05 };
    // Long-run variance of the sampled process: s² coth(1/(2 rate tc)) a reading.
    const share = 1 / Math.tanh(1 / (2 * design.rate * quick.correlationTime));
    const white = Math.hypot(design.white, quick.standardDeviation * Math.sqrt(share));
    const correlated = timeConstantBound({ ...design, correlated: [quick] });
    expect(correlated / timeConstantBound({ ...design, white, correlated: [] })).toBeCloseTo(1, 2);
  });

  test('a figure is met inside its range, and missed within chance where its interval reaches it', () => {
    const wanted = { low: 0.9, high: 1 };
    expect(verdictOn({ value: 0.95, low: 0.9, high: 0.97 }, wanted)).toBe('met');
    expect(verdictOn({ value: 0.88, low: 0.8, high: 0.93 }, wanted)).toBe('missed, within chance');
    expect(verdictOn({ value: 0.8, low: 0.7, high: 0.87 }, wanted)).toBe('missed');
    expect(verdictOn({ value: Number.NaN, low: 0, high: 1 }, wanted)).toBe('not measured');
  });
});
