import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import {
  chiSquareQuantile,
  coverageFactor,
  coverageInterval,
  logCoverageInterval,
  normalQuantile,
  studentQuantile,
} from '../../src/quantity/index.ts';
import { table } from '../reference/tables.ts';

describe("Student's t", () => {
  it('agrees with Table G.2 of JCGM 100 and its continuation to 1e-8', () => {
    const rows = table('student-t.csv');
    expect(rows.length).toBeGreaterThan(180);
    for (const row of rows) {
      const t = row.number('t');
      const found = studentQuantile((1 + row.number('p')) / 2, row.number('nu'));
      expect(Math.abs(found / t - 1), `${row.text('nu')} ${row.text('p')}`).toBeLessThan(1e-8);
    }
  });

  it('passes smoothly to the normal distribution', () => {
    // For t > 0 the quantile falls with the degrees of freedom; between 1e6 and 1e6 + 1 by 2.4e-12.
    const at = [1e5, 1e6, 1e6 + 1, 1e7, 1e12, Number.POSITIVE_INFINITY].map((nu) =>
      studentQuantile(0.975, nu),
    );
    for (let i = 1; i < at.length; i++) expect(at[i]).toBeLessThanOrEqual((at[i - 1] ?? 0) + 1e-12);
    expect((at[1] ?? 0) - (at[2] ?? 0)).toBeLessThan(5e-12);
    expect(at.at(-1)).toBeCloseTo(1.959963984540054, 14);
  });

  it('agrees with a general library', () => {
    for (const nu of [1, 2.5, 7, 30, 200]) {
      for (const p of [0.6, 0.9, 0.975, 0.995]) {
        expect(studentQuantile(p, nu)).toBeCloseTo(jstat.studentt.inv(p, nu), 7);
        expect(chiSquareQuantile(p, nu)).toBeCloseTo(jstat.chisquare.inv(p, nu), 6);
      }
    }
  });

  it('gives NaN for what is no probability or no degrees of freedom', () => {
    expect(studentQuantile(1.5, 3)).toBeNaN();
    expect(studentQuantile(0.9, 0)).toBeNaN();
    expect(studentQuantile(0.9, Number.NaN)).toBeNaN();
    expect(coverageFactor(5, 1)).toBeNaN();
  });
});

describe('normal and chi-square', () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1 and 1.3.6.7.4, as printed there.
  it('agree with printed tables', () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.96, 3);
    expect(chiSquareQuantile(0.95, 1)).toBeCloseTo(3.841, 3);
    expect(chiSquareQuantile(0.95, 6)).toBeCloseTo(12.592, 3);
    expect(chiSquareQuantile(0.99, 10)).toBeCloseTo(23.209, 3);
    expect(chiSquareQuantile(0.05, 30)).toBeCloseTo(18.493, 3);
  });
});

describe('coverage intervals', () => {
  // JCGM 100:2008, H.1.6: u 32 nm with 16 degrees of freedom, 99 %: k 2.92, U 93 nm.
  it('reproduce the end gauge of the guide', () => {
    expect(coverageFactor(16, 0.99)).toBeCloseTo(2.92, 2);
    const [low, high] = coverageInterval(50_000_838, 32, 16, 0.99);
    expect(Math.round((high - low) / 2)).toBe(93);
  });

  it('are symmetric in the logarithm and stay positive', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e6, noNaN: true }),
        fc.double({ min: 1e-6, max: 2, noNaN: true }),
        fc.double({ min: 1, max: 100, noNaN: true }),
        (value, uLog, nu) => {
          const [low, high] = logCoverageInterval(value, uLog, nu);
          expect(low).toBeGreaterThan(0);
          expect(Math.log(high / value)).toBeCloseTo(Math.log(value / low), 9);
          expect(Math.log(high / value)).toBeCloseTo(coverageFactor(nu) * uLog, 9);
        },
      ),
      { seed: 4 },
    );
  });

  it('agree with each other where the uncertainty is small', () => {
    const [low, high] = logCoverageInterval(40, 1e-4, 20);
    const [plainLow, plainHigh] = coverageInterval(40, 40 * 1e-4, 20);
    expect(Math.abs(low - plainLow)).toBeLessThan(1e-6);
    expect(Math.abs(high - plainHigh)).toBeLessThan(1e-6);
  });
});
