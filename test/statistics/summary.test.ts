import fc from 'fast-check';
import { interquartileRange, median as otherMedian, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import {
  autocorrelations,
  mean,
  median,
  normalQuantile,
  quantile,
  scaledMad,
  standardDeviation,
} from '../../src/statistics/index.ts';
import { column, table } from '../reference/tables.ts';

/** Data of the numerical accuracy sets as NIST constructs them. */
function constructed(base: number): number[] {
  return [base + 0.2, ...Array.from({ length: 1000 }, (_, i) => base + (i % 2 === 0 ? 0.1 : 0.3))];
}

function dataOf(set: string): number[] | null {
  if (set === 'numacc1') return [10_000_001, 10_000_003, 10_000_002];
  if (set === 'numacc2') return constructed(1);
  if (set === 'numacc3') return constructed(1e6);
  if (set === 'numacc4') return constructed(1e7);
  // The digits of pi are not among the files.
  return set === 'pidigits' ? null : column(`nist-strd/${set}.csv`, 'y');
}

describe('mean, standard deviation and lag-1 autocorrelation', () => {
  // NIST StRD, univariate. The decimals of NumAcc3 and 4 are not doubles: 1e-7 and 1e-6 is what the data hold.
  const rows = table('nist-strd/univariate.csv').filter((row) => dataOf(row.text('set')) !== null);
  const looser: Record<string, number> = { numacc3: 1e-7, numacc4: 1e-6 };

  it('has eight sets', () => expect(rows.length).toBe(8));

  it.each(rows.map((row) => [row.text('set'), row] as const))('%s', (set, row) => {
    const data = dataOf(set) ?? [];
    expect(data.length).toBe(row.number('n'));
    expect(Math.abs(mean(data) / row.number('mean') - 1)).toBeLessThan(1e-14);
    expect(Math.abs(standardDeviation(data) / row.number('sd') - 1)).toBeLessThan(looser[set] ?? 1e-12);
    const lag1 = autocorrelations(data, 1)[1] ?? Number.NaN;
    expect(Math.abs(lag1 - row.number('lag1'))).toBeLessThan(looser[set] ?? 1e-10);
  });

  it('agree with a general library', () => {
    const values = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 50 });
    fc.assert(
      fc.property(values, (data) => {
        expect(standardDeviation(data)).toBeCloseTo(sampleStandardDeviation(data), 8);
        expect(median(data)).toBeCloseTo(otherMedian(data), 10);
      }),
      { seed: 6 },
    );
  });
});

describe('order statistics', () => {
  // Definition 7 of Hyndman & Fan (1996) by hand: position (n - 1) p.
  it('interpolate between neighbours', () => {
    expect(quantile([4, 1, 3, 2], 0.25)).toBe(1.75);
    expect(quantile([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantile([15, 20, 35, 40, 50], 0.4)).toBeCloseTo(29, 12);
    expect(quantile([7], 0.9)).toBe(7);
    expect(quantile([1, 2], 1)).toBe(2);
    expect(quantile([], 0.5)).toBeNaN();
    expect(quantile([1, 2], 1.5)).toBeNaN();
    expect(interquartileRange([1, 2, 3, 4, 5])).toBe(
      quantile([1, 2, 3, 4, 5], 0.75) - quantile([1, 2, 3, 4, 5], 0.25),
    );
  });

  it('give a spread that one wild value does not move', () => {
    expect(scaledMad([1, 2, 3, 4, 1000])).toBeCloseTo(1.4826, 4);
    // The factor makes the median absolute deviation of a normal distribution its standard deviation.
    const normal = Array.from({ length: 9999 }, (_, i) => normalQuantile((i + 1) / 10_000));
    expect(scaledMad(normal)).toBeCloseTo(1, 3);
    expect(scaledMad(normal) * normalQuantile(0.75)).toBeCloseTo(normalQuantile(0.75), 3);
  });
});
