import { describe, expect, test } from 'vitest';
import { analyzeDecay, type Decay, usualDecaySettings } from '../../src/decay/index.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';
import { traceOf as timedTraceOf } from './segment-trials.ts';
import { analyzedTrial, codesOf, traceOf } from './trials.ts';

const trial = { ...plainTrial, timeConstant: 30, rate: 20, coolingTimeConstants: 5, whiteNoise: 0.1 };

function share(decays: readonly Decay[], good: (decay: Decay) => boolean): number {
  return decays.filter(good).length / decays.length;
}

function holds(truth: number) {
  return ({ timeConstant }: Decay) =>
    timeConstant !== null && timeConstant.interval[0] <= truth && truth <= timeConstant.interval[1];
}

/** A trial whose time constant changes to another when a part of the fall is left. */
function withChange(part: number, later: number): { decay: Decay; heatOff: number } {
  const { temperature, heatOff } = simulateTrial({ ...trial, coolingTimeConstants: 7 });
  const step = trial.peak - trial.ambient;
  const change = heatOff - trial.timeConstant * Math.log(part);
  const changed = temperature.map((t, i) => {
    const after = i / trial.rate - change;
    if (after <= 0) return t;
    const own = step * part * Math.exp(-after / trial.timeConstant);
    return t - own + step * part * Math.exp(-after / later);
  });
  return { decay: analyzeDecay(traceOf(changed, trial.rate)), heatOff };
}

describe('a jet that changes during the cooling', () => {
  test.each([
    [0.5, 60],
    [0.3, 90],
    [0.36, 90],
  ])(
    'at %d of the step, to %d s, is found, does not move the heat-off, and asks for a repeat',
    (part, later) => {
      const { decay, heatOff } = withChange(part, later);
      expect(Math.abs((decay.segments.heatOff ?? 0) - heatOff)).toBeLessThan(0.02 * trial.timeConstant);
      expect(decay.adequacy?.kind).toBe('jet-changed');
      // The rate falls from 1/30 to 1/60 or 1/90 s.
      expect(decay.adequacy?.rateChange?.share).toBeCloseTo(trial.timeConstant / later - 1, 1);
      expect(decay.verdict).toBe('repeat');
      expect(codesOf(decay)).not.toContain('zero-drift');
    },
  );

  test('early is found as well', () => {
    const { decay, heatOff } = withChange(0.8, 60);
    expect((decay.segments.heatOff ?? 0) - heatOff).toBeGreaterThan(-0.02 * trial.timeConstant);
    expect(decay.verdict).toBe('repeat');
  });

  test.each([
    [0.8, 15],
    [0.7, 13],
    [0.6, 15],
  ])('at %d of the step, to a faster one of %d s, is not taken for the heat going off', (part, later) => {
    const { decay, heatOff } = withChange(part, later);
    expect(Math.abs((decay.segments.heatOff ?? 0) - heatOff)).toBeLessThan(0.05 * trial.timeConstant);
    expect(codesOf(decay)).toContain('not-first-order');
  });
});

describe('a jet that is colder or hotter than the baseline', () => {
  test.each([-1.5, 1.5])('by %d K is said to be, and its interval holds the truth', (ambientShift) => {
    for (const correlatedNoise of [0, 0.2]) {
      const decays = Array.from({ length: 12 }, (_, seed) =>
        analyzedTrial({ ...trial, correlatedNoise, correlationTime: 0.4, ambientShift, seed: 40 + seed }),
      );
      // Twelve intervals of 95 % hold it fewer than ten times once in fifty times.
      expect(share(decays, holds(trial.timeConstant))).toBeGreaterThanOrEqual(9 / 12);
      expect(share(decays, (decay) => codesOf(decay).includes('zero-drift'))).toBeGreaterThanOrEqual(11 / 12);
      expect(share(decays, (decay) => codesOf(decay).includes('not-first-order'))).toBeLessThanOrEqual(
        2 / 12,
      );
      const told = decays.find(({ ambient }) => ambient?.source === 'fitted');
      expect(told?.ambient?.reason).toContain(ambientShift > 0 ? 'above the baseline' : 'below the baseline');
    }
  });
});

describe('a zero that drifts', () => {
  test.each([-0.01, 0.01, 0.02])('by %d K/s is said to, before anything else of the cooling', (drift) => {
    const decays = Array.from({ length: 12 }, (_, seed) =>
      analyzedTrial({ ...trial, drift, seed: 60 + seed }),
    );
    expect(share(decays, holds(trial.timeConstant))).toBeGreaterThanOrEqual(10 / 12);
    for (const decay of decays) {
      expect(codesOf(decay)).toContain('zero-drift');
      expect(codesOf(decay)).not.toContain('not-first-order');
    }
  });
});

test('clean trials, at rates that fold hum among them, have hardly a remark', () => {
  const rates = [10, 20, 50, 100];
  const decays = Array.from({ length: 40 }, (_, seed) =>
    analyzedTrial(
      { ...trial, rate: rates[seed % 4] ?? 20, seed: 300 + seed, step: seed % 3 === 0 ? 0.25 : 0 },
      usualDecaySettings,
    ),
  );
  expect(share(decays, ({ remarks }) => remarks.length > 0)).toBeLessThanOrEqual(0.05);
});

test('readings that are missing from the cooling are not counted, and are said to be missing', () => {
  const { temperature, heatOff } = simulateTrial(trial);
  const times = Float64Array.from(temperature.keys(), (i) => i / trial.rate);
  // 15 s of 150 s, well within the cooling.
  const there = (_: number, i: number) => {
    const later = (times[i] ?? 0) - heatOff;
    return later < 10 || later > 25;
  };
  const whole = analyzedTrial(trial);
  const decay = analyzeDecay(timedTraceOf(temperature.filter(there), 1 / trial.rate, times.filter(there)));
  const all = whole.independentReadings ?? Number.NaN;
  expect(all - (decay.independentReadings ?? 0)).toBeCloseTo(0.1 * all, -2);
  const gap = decay.remarks.find(({ code }) => code === 'gaps');
  expect(gap?.severity).toBe('caution');
  expect((gap?.at?.to ?? 0) - (gap?.at?.from ?? 0)).toBeCloseTo(15, 0);
  expect(holds(trial.timeConstant)(decay)).toBe(true);
});
