import { describe, expect, it } from 'vitest';
import { converterStepOf, describeRawNoise, effectiveReadings } from '../../src/decay/raw-noise.ts';
import { foldedFrequency } from '../../src/decay/raw-noise-hum.ts';
import { rawNoiseRemarks } from '../../src/decay/raw-noise-remarks.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { plainTrial, simulateTrial, type TrialSettings } from '../support/trial.ts';
import { traceOf } from './segment-trials.ts';

function noiseOf(settings: Partial<TrialSettings>, mains = 50) {
  const trial = simulateTrial({
    ...plainTrial,
    whiteNoise: 0,
    timeConstant: 5,
    heating: 10,
    baseline: 60,
    ...settings,
  });
  const trace = traceOf(trial.temperature, 1 / trial.settings.rate);
  return describeRawNoise(trace, mains, { from: 0, to: 60 });
}

describe('describeRawNoise', () => {
  it('finds white noise white', () => {
    const noise = noiseOf({ whiteNoise: 0.2, rate: 200 });
    // 12 000 readings: relative standard error of a deviation 1/sqrt(2 n) = 0.65 %; the split may give a little to
    // the correlated part.
    expect(Math.abs((noise?.white ?? 0) / 0.2 - 1)).toBeLessThan(0.03);
    expect(noise?.correlated).toBeLessThan(0.03);
  });

  it('splits white from correlated noise and finds the correlation time', () => {
    const noise = noiseOf({ whiteNoise: 0.2, correlatedNoise: 0.3, correlationTime: 0.5, rate: 500 });
    expect((noise?.white ?? 0) / 0.2).toBeCloseTo(1, 1);
    // 60 s are 60 independent readings of the correlated part.
    expect(Math.abs((noise?.correlated ?? 0) / 0.3 - 1)).toBeLessThan(0.25);
    expect(Math.abs(Math.log((noise?.correlationTime ?? 0) / 0.5))).toBeLessThan(0.5);
  });

  it.each([
    [1000, 50],
    [1000, 60],
    [500, 50],
    [128, 60],
  ])('measures hum at %d Hz sampling and %d Hz mains', (rate, mains) => {
    const noise = noiseOf({ hum: 0.6, mains, rate, whiteNoise: 0.1 }, mains);
    expect(noise?.hum.amplitude ?? 0).toBeCloseTo(0.6, 1.7);
    expect(noise?.hum.foldedLow).toBe(false);
  });

  it('sees no hum where there is none', () => {
    expect(noiseOf({ whiteNoise: 0.2, rate: 1000 })?.hum.amplitude ?? 1).toBeLessThan(0.01);
  });

  // Folding: |f − k·rate| for the nearest k. Rates that the method warns of: 10, 25, 50 Hz at 50 Hz mains.
  it.each([
    [10, 50, 0],
    [25, 50, 0],
    [50, 50, 0],
    [20, 60, 0],
    [30, 60, 0],
    [49, 50, 1],
    [100, 50, 50],
    [125, 50, 50],
    [40, 50, 10],
  ])('knows where hum appears at %d Hz and %d Hz mains', (rate, mains, expected) => {
    expect(foldedFrequency(mains, rate)).toBeCloseTo(expected, 9);
    const noise = noiseOf({ rate, whiteNoise: 0.1 }, mains);
    expect(noise?.hum.foldedLow).toBe(expected < mains / 10);
    if (expected === 0) expect(noise?.hum.amplitude).toBeNull();
  });

  it.each([0.25, 1, 0.0125])('finds a converter step of %d K', (step) => {
    const noise = noiseOf({ step, whiteNoise: 2 * step, rate: 200 });
    expect((noise?.step ?? 0) / step).toBeCloseTo(1, 6);
  });

  it('sees no step in readings that do not repeat', () => {
    const random = seededRandom(8);
    expect(converterStepOf(Float64Array.from({ length: 1000 }, () => random.normal()))).toBeNull();
    expect(converterStepOf(new Float64Array(100).fill(3))).toBeNull();
  });

  it('finds where a peak is cut off, and does not take a peak for that', () => {
    const trial = simulateTrial({ ...plainTrial, rate: 50, whiteNoise: 0.1 });
    const whole = describeRawNoise(traceOf(trial.temperature, 0.02), 50, { from: 0, to: 19 });
    expect(whole?.clipping).toEqual([]);
    const cut = trial.temperature.map((x) => Math.min(x, 95));
    const noise = describeRawNoise(traceOf(cut, 0.02), 50, { from: 0, to: 19 });
    expect(noise?.clipping).toHaveLength(1);
    expect(noise?.clipping[0]?.end).toBe('top');
    expect(noise?.clipping[0]?.level).toBe(95);
    // Heating passes 95 °C at 20 + 40 ln(1.582/(1.582 − 73/90)) s; cooling at 60 + 40 ln(90/73) s.
    const stream = 1 / -Math.expm1(-1);
    expect(noise?.clipping[0]?.from).toBeCloseTo(20 - 40 * Math.log(1 - 73 / 90 / stream), 0);
    expect(noise?.clipping[0]?.to).toBeCloseTo(60 + 40 * Math.log(90 / 73), 0);
  });

  // Degrees found from volts by iteration depend in their last digits on where the iteration starts: 1e-6 K here.
  it('finds a peak cut off in volts, whose degrees are not equal to the last digit', () => {
    const trial = simulateTrial({ ...plainTrial, rate: 50, whiteNoise: 0.1 });
    const cut = trial.temperature.map((x, i) => Math.min(x, 95 - 1e-6 * (i % 2)));
    const noise = describeRawNoise(traceOf(cut, 0.02), 50, { from: 0, to: 19 });
    expect(noise?.clipping).toHaveLength(1);
    expect(noise?.clipping[0]?.from).toBeCloseTo(20 - 40 * Math.log(1 - (73 / 90) * -Math.expm1(-1)), 0);
    expect(noise?.clipping[0]?.to).toBeCloseTo(60 + 40 * Math.log(90 / 73), 0);
  });

  it('finds a range that ends above the ambient, though the baseline shows no noise then', () => {
    const trial = simulateTrial({ ...plainTrial, rate: 50, whiteNoise: 0.1, step: 0.01 });
    const end = 35;
    const cut = trial.temperature.map((x) => Math.max(x, end));
    const noise = describeRawNoise(traceOf(cut, 0.02), 50, { from: 0, to: 19 });
    expect(noise?.clipping.map((one) => [one.end, one.level])).toEqual([
      ['bottom', end],
      ['bottom', end],
    ]);
    expect(noise?.clipping[0]?.from).toBe(0);
    expect(noise?.clipping[1]?.to).toBeCloseTo((cut.length - 1) / 50, 6);
  });

  it.each([0.5, 2, 5])('takes no still signal for that whose steps of %d K are stairs', (step) => {
    for (const rate of [5, 20, 50]) {
      const trial = simulateTrial({ ...plainTrial, rate, whiteNoise: 0 });
      const stairs = trial.temperature.map((x) => step * Math.round(x / step));
      expect(describeRawNoise(traceOf(stairs, 1 / rate), 50, { from: 0, to: 19 })?.clipping).toEqual([]);
    }
  });

  it('gives nothing for a few readings', () => {
    expect(describeRawNoise(traceOf(new Float64Array(10), 0.1), 50, null)).toBeNull();
  });
});

describe('effectiveReadings', () => {
  it('counts all white readings', () => {
    expect(effectiveReadings({ white: 0.2, correlated: 0, correlationTime: 0 }, 100, 0.01)).toBeCloseTo(
      10_000,
      6,
    );
  });

  it('counts one reading per two correlation times of correlated noise, whatever the rate', () => {
    const noise = { white: 0, correlated: 0.3, correlationTime: 0.5 };
    expect(effectiveReadings(noise, 100, 0.01)).toBeCloseTo(100, 6);
    expect(effectiveReadings(noise, 100, 0.0001)).toBeCloseTo(100, 6);
  });
});

describe('rawNoiseRemarks', () => {
  const noise = noiseOf({ whiteNoise: 0.1, rate: 100 });
  if (noise === null) throw new Error('the trial has readings enough');
  const facts = { noise, cooling: { from: 70, to: 100 }, step: 90, humFree: true };
  const codes = (change: Partial<typeof noise>) =>
    rawNoiseRemarks({ ...facts, noise: { ...noise, ...change } }).map((r) => `${r.code} ${r.severity}`);

  it('says nothing of quiet readings', () => {
    expect(rawNoiseRemarks(facts)).toEqual([]);
  });

  it('asks to repeat only where the cooling itself is cut off', () => {
    const at = (from: number, to: number) =>
      codes({ clipping: [{ end: 'top', level: 95, readings: 50, from, to }] });
    expect(at(75, 80)).toEqual(['clipped repeat']);
    expect(at(50, 60)).toEqual(['clipped caution']);
  });

  it('weighs a step against the noise that smooths it', () => {
    expect(codes({ step: 2 })).toEqual(['coarse-resolution caution']);
    expect(codes({ step: 2, white: 1 })).toEqual(['coarse-resolution note']);
    expect(codes({ step: 0.1 })).toEqual([]);
  });

  it('weighs hum by what the blocks leave of it', () => {
    const hum = { mains: 50, amplitude: 3, appearsAt: 50, foldedLow: false };
    expect(codes({ hum })).toEqual(['hum-heavy note']);
    expect(rawNoiseRemarks({ ...facts, humFree: false, noise: { ...noise, hum } })[0]?.severity).toBe(
      'caution',
    );
  });

  it('blames hum that cannot be told only for a baseline that wanders, and no slow logger', () => {
    const hum = { mains: 50, amplitude: null, appearsAt: 0, foldedLow: true };
    expect(codes({ hum })).toEqual([]);
    expect(codes({ hum, correlated: 1.5 })).toEqual(['hum-heavy note']);
    const slow = { readings: 60, from: 0, to: 59 };
    expect(codes({ hum, correlated: 1.5, ...slow })).toEqual([]);
    expect(codes({ hum: { ...hum, amplitude: 3, appearsAt: 1 }, white: 0.1 })).toEqual(['hum-heavy caution']);
  });

  // Rounding to a step has the variance of a uniform distribution (JCGM 100:2008, F.2.2.1).
  it('takes a still signal on a coarse step for no better than its rounding', () => {
    const still = noiseOf({ whiteNoise: 0.001, step: 1, rate: 20 });
    expect(still?.step).toBeCloseTo(1, 9);
    expect(still?.deviation).toBeCloseTo(1 / Math.sqrt(12), 9);
  });
});
