import fc from 'fast-check';
import { expect, it } from 'vitest';
import { normalQuantile, studentQuantile } from '../../src/quantity/index.ts';
import { table } from '../reference/tables.ts';

const off = (found: number, expected: number) => Math.abs(found / expected - 1);

it('agree with a general library to 1e-13, in tails and for fractional degrees of freedom', () => {
  const rows = table('quantiles.csv');
  expect(rows.length).toBe(79);
  for (const row of rows) {
    const p = row.number('p');
    const nu = row.number('nu');
    const found = row.text('distribution') === 't' ? studentQuantile(p, nu) : normalQuantile(p);
    expect(off(found, row.number('quantile')), `${nu} ${p}`).toBeLessThan(1e-13);
  }
});

it('agree with the closed forms for one and two degrees of freedom', () => {
  // Shaw, W. T., Journal of Computational Finance 9, 2006, section 3: the quantile of the Cauchy distribution, and of
  // two degrees of freedom with a = 4 p (1 - p).
  for (const p of [1e-300, 1e-100, 1e-20, 1e-8, 1e-3, 0.02, 0.1, 0.2, 0.2499, 0.25, 0.2501, 0.3, 0.4]) {
    expect(off(studentQuantile(p, 1), -1 / Math.tan(Math.PI * p)), `1 ${p}`).toBeLessThan(1e-13);
    expect(off(studentQuantile(p, 2), (2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p)))), `2 ${p}`).toBeLessThan(
      1e-13,
    );
  }
});

it('are odd about one half, and rise', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-6, max: 0.4999, noNaN: true }),
      fc.double({ min: 0.3, max: 2e6, noNaN: true }),
      (p, nu) => {
        const low = studentQuantile(p, nu);
        // 1 - p is rounded; the quantile moves by that over its density.
        expect(off(-low, studentQuantile(1 - p, nu))).toBeLessThan(1e-9);
        expect(studentQuantile(p * 1.0001, nu)).toBeGreaterThan(low);
      },
    ),
    { seed: 11, numRuns: 500 },
  );
});

it('reach infinity at the ends only, and know their range', () => {
  for (const quantile of [normalQuantile, (p: number) => studentQuantile(p, 3)]) {
    expect(quantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(quantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(quantile(0.5)).toBe(0);
    for (const p of [-1e-9, 1 + 1e-9, Number.NaN]) expect(quantile(p)).toBeNaN();
  }
  expect(studentQuantile(0.9, -1)).toBeNaN();
});
