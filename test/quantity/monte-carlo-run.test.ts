import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Input,
  normalQuantile,
  propagate,
  propagateMonteCarlo,
  propagateMonteCarloAdaptively,
  validate,
} from '../../src/quantity/index.ts';
import { summaryOfDraws } from '../../src/quantity/monte-carlo-summary.ts';
import { digitTolerance } from '../../src/quantity/monte-carlo-tolerance.ts';
import { four, sum } from './monte-carlo-inputs.ts';

const draws = 200_000;
/** Standard error of the end of a symmetric 95 % interval where the density there is known. */
const endError = (density: number) => Math.sqrt((0.025 * 0.975) / draws) / density;
const within = (found: number, expected: number, error: number) =>
  expect(Math.abs(found - expected), `${found} for ${expected}`).toBeLessThan(3 * error);

describe('a Monte Carlo run', () => {
  const inputs = [
    { name: 'a', value: 3, standardUncertainty: 0.2, unit: '' },
    { name: 'b', value: 1, standardUncertainty: 0.1, distribution: 'rectangular', unit: '' },
  ] as const;
  const product = ([a, b]: readonly [number, number]) => a * b;

  it('is the same for the same seed', () => {
    const run = (seed: number) => propagateMonteCarlo(product, inputs, { seed, draws: 5000 });
    expect(run(7)).toEqual(run(7));
    expect(run(7).mean).not.toBe(run(8).mean);
  });

  it('follows a change of the output unit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.double({ min: -100, max: 100, noNaN: true }),
        (factor, offset) => {
          const plain = propagateMonteCarlo(product, inputs, { draws: 2000 });
          const scaled = propagateMonteCarlo((x) => factor * product(x) + offset, inputs, { draws: 2000 });
          expect(scaled.mean).toBeCloseTo(factor * plain.mean + offset, 8);
          expect(scaled.standardUncertainty).toBeCloseTo(factor * plain.standardUncertainty, 8);
          for (const k of [0, 1]) {
            expect(scaled.interval[k]).toBeCloseTo(factor * (plain.interval[k] ?? 0) + offset, 8);
            expect(scaled.shortestInterval[k]).toBeCloseTo(
              factor * (plain.shortestInterval[k] ?? 0) + offset,
              8,
            );
          }
        },
      ),
      { seed: 5, numRuns: 30 },
    );
  });

  it('holds as many draws in its intervals as it says', () => {
    for (const coverage of [0.5, 0.9, 0.95, 0.99]) {
      const kept: number[] = [];
      const found = propagateMonteCarlo(
        (x) => {
          kept.push(product(x));
          return product(x);
        },
        inputs,
        { coverage, draws: 20_000 },
      );
      for (const [low, high] of [found.interval, found.shortestInterval]) {
        const inside = kept.filter((y) => y >= low && y <= high).length;
        expect(Math.abs(inside - coverage * 20_000)).toBeLessThanOrEqual(1);
      }
    }
  });

  it('finds the shortest interval of a lopsided distribution', () => {
    // Exponential distribution, as -ln of a uniform one: the shortest 95 % runs from 0 to -ln 0.05 = 2.9957.
    const uniform = {
      name: 'u',
      value: 0.5,
      standardUncertainty: 1 / Math.sqrt(12),
      distribution: 'rectangular',
    } as const;
    const found = propagateMonteCarlo(([u]) => -Math.log(u), [{ ...uniform, unit: '' }], { draws });
    expect(found.shortestInterval[0]).toBeLessThan(0.01);
    within(found.shortestInterval[1], -Math.log(0.05), Math.sqrt((0.05 * 0.95) / draws) / 0.05 + 0.002);
    within(found.interval[0], -Math.log(0.975), endError(0.975));
    within(found.interval[1], -Math.log(0.025), endError(0.025));
  });

  it('refuses options that cannot be used', () => {
    expect(() => propagateMonteCarlo(product, inputs, { draws: 1999 })).toThrow(
      'The number of draws is 1999: give a whole number from 2000 to 10000000.',
    );
    expect(() => propagateMonteCarlo(product, inputs, { draws: 1e9 })).toThrow(/from 2000 to 10000000/);
    expect(() => propagateMonteCarlo(product, inputs, { draws: 2000.5 })).toThrow(/whole number/);
    expect(() => propagateMonteCarlo(product, inputs, { seed: 0.5 })).toThrow(/The seed is 0.5/);
    expect(() => propagateMonteCarlo(product, inputs, { coverage: 95 })).toThrow(/The coverage is 95/);
    expect(() => propagateMonteCarloAdaptively(product, inputs, { mostDraws: 100 })).toThrow(/from 20000/);
  });
});

describe('as many draws as the figures need', () => {
  const inputs = four('normal');

  it('are drawn until they are stable', () => {
    const coarse = propagateMonteCarloAdaptively(sum, inputs, { figures: 1 });
    expect(coarse.stable).toBe(true);
    expect(coarse.tolerance).toBe(0.5);
    expect(coarse.draws).toBe(20_000);
    const fine = propagateMonteCarloAdaptively(sum, inputs, { figures: 2 });
    expect(fine.stable).toBe(true);
    expect(fine.tolerance).toBe(0.05);
    // Stability is judged at two standard errors: the ends are right to three of them.
    expect(Math.abs(fine.interval[1] - 2 * normalQuantile(0.975))).toBeLessThan(0.075);
  });

  it('come to an end where the figures stay unstable', () => {
    // The spread of a Cauchy distribution never settles.
    const cauchy: Input[] = [
      { name: 'x', value: 0, standardUncertainty: 1, degreesOfFreedom: 1, distribution: 't', unit: '' },
    ];
    const found = propagateMonteCarloAdaptively(sum, cauchy, { mostDraws: 50_000 });
    expect(found.stable).toBe(false);
    expect(found.draws).toBe(50_000);
  });
});

describe('validation of the first order', () => {
  it('sees a mean that the bend of the model shifts', () => {
    // x² with x = 0 ± 1: first derivative 0, mean 1 (chi-square with one degree of freedom).
    const inputs = [{ name: 'x', value: 0, standardUncertainty: 1, unit: '' }] as const;
    const first = propagate(([x]) => x * x, inputs);
    const found = propagateMonteCarlo(([x]) => x * x, inputs, { draws });
    within(found.mean, 1, Math.sqrt(2 / draws));
    const validation = validate(first, found);
    expect(validation.verdict).toBe('disagree');
    expect(validation.flaws).toEqual(['mean', 'spread']);
  });

  it('asks for more draws where they are too few', () => {
    const inputs = four('normal');
    const found = propagateMonteCarlo(sum, inputs, { draws: 2000 });
    const validation = validate(propagate(sum, inputs), found);
    expect(validation.verdict).toBe('too-few-draws');
    expect(validation.sentence).toMatch(/^2000 draws are too few to tell/);
  });

  it('agrees on what does not vary', () => {
    const inputs = [{ name: 'x', value: 2, standardUncertainty: 0, unit: '' }] as const;
    const found = propagateMonteCarlo(([x]) => x / 3, inputs, { draws: 2000 });
    expect(
      validate(
        propagate(([x]) => x / 3, inputs),
        found,
      ).verdict,
    ).toBe('agree');
  });

  it('compares equal coverages only', () => {
    const first = propagate(sum, four('normal'), { coverage: 0.99 });
    expect(() => validate(first, propagateMonteCarlo(sum, four('normal'), { draws: 2000 }))).toThrow(
      /coverages 0.99 and 0.95/,
    );
  });
});

describe('numerical tolerance', () => {
  it('is that of the examples in JCGM 101:2008, 7.9.2', () => {
    // Examples 1 and 2 (from memory): 0.00035 g to two figures, 2 K to one.
    expect(digitTolerance(0.00035, 2)).toBeCloseTo(0.000005, 15);
    expect(digitTolerance(2, 1)).toBe(0.5);
  });

  it('follows the rounding of the uncertainty', () => {
    // 0.0994 is 0.099, 0.0996 is 0.10.
    expect(digitTolerance(0.0994, 2)).toBeCloseTo(0.0005, 12);
    expect(digitTolerance(0.0996, 2)).toBeCloseTo(0.005, 12);
    expect(digitTolerance(0, 2)).toBe(0);
    expect(digitTolerance(Number.NaN, 2)).toBeNaN();
  });
});

describe('the summary of a few draws', () => {
  it('is what one works out by hand', () => {
    const found = summaryOfDraws(new Float64Array([4, 1, 3, 2, 10]), [], 0.6);
    expect(found.mean).toBe(4);
    // Squares of the deviations: 9, 4, 1, 0, 36.
    expect(found.standardUncertainty).toBeCloseTo(Math.sqrt(50 / 4), 14);
    // q = 3 of 5, r = floor((5 - 3 + 1)/2) = 1: the first and the fourth (JCGM 101:2008, 7.7.2).
    expect(found.interval).toEqual([1, 4]);
    expect(found.median).toBe(3);
  });
});
