import { describe, expect, test } from 'vitest';
import { airSegments, createDisturbances } from '../../src/practice/body-air.ts';
import { seededRandom } from '../../src/practice/random.ts';
import {
  largestDifference,
  oneTemperature,
  plainBenchTrial,
  simulate,
  type TrialChanges,
  wire,
} from './body-trial.ts';

describe('chance', () => {
  /** Seconds of turbulence on a body with a time constant of 4 s. */
  const diameter = (6 * 4 * 150) / 8500 / 380;
  const idle = { from: 0, to: 1, stream: 20, coefficient: 150 };

  test('turbulence reaches the junction as through two lags', () => {
    const [tau, lag, memory, s] = [4, 1.5, 2, 1];
    const { junction } = simulate(
      {
        body: { ...oneTemperature, diameter, junctionLag: lag },
        air: { turbulence: { standardDeviation: s, correlationTime: memory } },
        heating: idle,
        length: 20_000,
        rate: 0.5,
      },
      seededRandom(12),
    );
    const mean = junction.reduce((sum, t) => sum + t, 0) / junction.length;
    const variance = junction.reduce((sum, t) => sum + (t - mean) ** 2, 0) / junction.length;
    // Integral of the spectrum 2 s² c/((1 + w²c²)(1 + w²a²)(1 + w²b²)): s² c (ab + bc + ca)/((a + b)(b + c)(c + a)).
    const expected =
      (s * s * memory * (tau * lag + lag * memory + memory * tau)) /
      ((tau + lag) * (lag + memory) * (memory + tau));
    // About 20000 s/(7 s) independent values: 2.6 % on the variance, and 0.7 % of the straight lines between draws.
    expect(Math.abs(variance / expected - 1)).toBeLessThan(0.08);
    expect(Math.abs(mean - 20)).toBeLessThan(4 * s * Math.sqrt((2 * memory) / 20_000));
  });

  test('a body starts with its share of the turbulence: variance s² c/(tau + c)', () => {
    const starts = Array.from({ length: 800 }, (_, seed) => {
      const changes: TrialChanges = {
        body: { ...oneTemperature, diameter },
        air: { turbulence: { standardDeviation: 1, correlationTime: 2 } },
        heating: idle,
        length: 1,
      };
      return (simulate({ ...changes }, seededRandom(seed)).junction[0] ?? 0) - 20;
    });
    const variance = starts.reduce((sum, x) => sum + x * x, 0) / starts.length;
    // sqrt(2/800) = 5 %.
    expect(Math.abs(variance / (2 / 6) - 1)).toBeLessThan(0.15);
  });

  test('fluctuating coefficients make the logarithm walk', () => {
    const [tau, memory, relative, time] = [4, 0.5, 0.05, 8];
    const ends = Array.from({ length: 300 }, (_, seed) => {
      const { junction, truth } = simulate(
        {
          body: { ...oneTemperature, diameter },
          air: { coefficientFluctuation: { relative, correlationTime: memory } },
          heating: { from: -20, to: 0, coefficient: 150 },
          length: time,
          rate: 1,
        },
        seededRandom(seed),
      );
      expect(truth.timeConstant).toBeCloseTo(tau, 3);
      return Math.log(((junction.at(-1) ?? 0) - 20) / ((junction[0] ?? 0) - 20)) + time / tau;
    });
    const mean = ends.reduce((sum, x) => sum + x, 0) / ends.length;
    const variance = ends.reduce((sum, x) => sum + (x - mean) ** 2, 0) / ends.length;
    // Variance of the integral of an Ornstein-Uhlenbeck process (Gillespie, Phys. Rev. E 54, 1996, 2084).
    const integral = 2 * relative ** 2 * memory * (time - memory * (1 - Math.exp(-time / memory)));
    // sqrt(2/300) = 8 %; the mean within four of its standard errors.
    expect(Math.abs((variance * tau * tau) / integral - 1)).toBeLessThan(0.25);
    expect(Math.abs(mean)).toBeLessThan(4 * Math.sqrt(variance / 300));
  });

  test('fluctuating coefficients keep their mean and have their spread', () => {
    const relative = 0.4;
    const trial = plainBenchTrial({ air: { coefficientFluctuation: { relative, correlationTime: 1 } } });
    const [segment] = airSegments(trial, 0, 10);
    const disturbances = createDisturbances(trial, seededRandom(8));
    if (segment === undefined) throw new Error('no segment');
    const factors = Array.from({ length: 10_000 }, (_, i) => {
      disturbances.goOn(segment, 20);
      const { coefficient, stemFactor } = disturbances.at(segment, i, 1);
      expect(coefficient / 150).toBeCloseTo(stemFactor, 12);
      return stemFactor;
    });
    const mean = factors.reduce((sum, x) => sum + x, 0) / factors.length;
    const variance = factors.reduce((sum, x) => sum + (x - mean) ** 2, 0) / factors.length;
    // Log-normal: mean 1, variance exp(s²) - 1; four standard errors of the mean.
    expect(Math.abs(mean - 1)).toBeLessThan((4 * 0.4166) / 100);
    expect(Math.abs(variance / Math.expm1(relative ** 2) - 1)).toBeLessThan(0.12);
  });

  test('a wandering hand changes the heating and leaves the rest', () => {
    const wandering = simulate({ heating: { wander: 0.1 } }, seededRandom(2)).junction;
    const plain = simulate({}).junction;
    expect(largestDifference(wandering.slice(0, 100), plain.slice(0, 100))).toBe(0);
    expect(largestDifference(wandering.slice(100, 600), plain.slice(100, 600))).toBeGreaterThan(0.2);
    // A plain sphere cools as fast from wherever it was.
    const ratio = (i: number) => ((wandering[i] ?? 0) - 20) / ((plain[i] ?? 0) - 20);
    expect(ratio(1900) / ratio(700)).toBeCloseTo(1, 5);
  });
});

describe('numbers that cannot be', () => {
  test.each<[string, TrialChanges, string]>([
    [
      'no size',
      { body: { diameter: 0 } },
      'the diameter of a simulated trial is 0: give a finite number above 0',
    ],
    ['no number', { air: { ambient: Number.NaN } }, 'the ambient temperature of a simulated trial is NaN'],
    ['a negative time', { heating: { tail: -1 } }, 'the tail of a hot stream of a simulated trial is -1'],
    ['no heating', { heatings: [] }, 'a simulated trial has no heating'],
    ['a heating backwards', { heating: { from: 9, to: 9 } }, 'a heating from 9 s to 9 s'],
    ['a stem without length', { body: { stems: [{ ...wire, length: 0 }] } }, 'the length of a stem'],
    ['endless samples', { rate: 1e9 }, 'has more than 50000000 samples'],
    [
      'endless steps',
      { air: { turbulence: { standardDeviation: 1, correlationTime: 1e-7 } } },
      'more than 1000000 of them',
    ],
  ])('%s', (_, changes, message) => {
    expect(() => simulate(changes, seededRandom(1))).toThrow(RangeError);
    expect(() => simulate(changes, seededRandom(1))).toThrow(message);
  });
});
