import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ar1MeanInflation,
  ar1SlopeInflation,
  ar1VarianceInflation,
  autocorrelations,
  durbinWatson,
  fitLine,
  fitLineThroughOrigin,
  initialPositiveInflation,
  lineInfluences,
  neweyWestCovariance,
} from '../../src/statistics/index.ts';
import { column, json, table } from '../reference/tables.ts';

interface Hac {
  intercept: number;
  slope: number;
  standardErrors: [number, number];
  rSquared: number;
  covariance: number;
  durbinWatson: number;
  residualAutocorrelations: number[];
  neweyWest: {
    lags: number;
    smallSample: boolean;
    standardErrors: [number, number];
    covariance: number | null;
  }[];
  throughOrigin: { slope: number; standardError: number; neweyWest4: number };
}

const reference = json<Hac>('hac.json');
const t = column('hac-data.csv', 't_s');
const y = column('hac-data.csv', 'ln_error_fraction');

function relative(found: number | undefined, wanted: number): number {
  return Math.abs((found ?? Number.NaN) / wanted - 1);
}

function residualsOf(slope: number, intercept: number): number[] {
  return y.map((value, i) => value - intercept - slope * (t[i] ?? Number.NaN));
}

// statsmodels and the R package sandwich on the same data; 1e-9.
describe('a line through correlated readings', () => {
  const fit = fitLine(t, y);
  if (fit === null) throw new Error('no fit');
  const residuals = residualsOf(fit.slope, fit.intercept);

  it('has the ordinary standard errors of the reference', () => {
    expect(relative(fit.slope, reference.slope)).toBeLessThan(1e-11);
    expect(relative(fit.intercept, reference.intercept)).toBeLessThan(1e-11);
    expect(relative(fit.interceptStandardError, reference.standardErrors[0])).toBeLessThan(1e-9);
    expect(relative(fit.slopeStandardError, reference.standardErrors[1])).toBeLessThan(1e-9);
    expect(relative(fit.covariance, reference.covariance)).toBeLessThan(1e-9);
    expect(relative(fit.rSquaredAboutMean, reference.rSquared)).toBeLessThan(1e-12);
  });

  it('has the Durbin-Watson statistic and autocorrelations of the reference', () => {
    expect(relative(durbinWatson(residuals), reference.durbinWatson)).toBeLessThan(1e-9);
    const found = autocorrelations(residuals, 5);
    for (const [k, wanted] of reference.residualAutocorrelations.entries()) {
      expect(relative(found[k], wanted)).toBeLessThan(1e-9);
    }
  });

  it.each(reference.neweyWest)(
    'has the robust errors of the reference at $lags lags, small sample $smallSample',
    (row) => {
      const { intercept, slope } = lineInfluences(t);
      const covariance = neweyWestCovariance(
        [intercept, slope],
        residuals,
        row.lags,
        row.smallSample ? 2 : 0,
      );
      expect(relative(Math.sqrt(covariance[0]?.[0] ?? Number.NaN), row.standardErrors[0])).toBeLessThan(1e-9);
      expect(relative(Math.sqrt(covariance[1]?.[1] ?? Number.NaN), row.standardErrors[1])).toBeLessThan(1e-9);
      if (row.covariance !== null) expect(relative(covariance[0]?.[1], row.covariance)).toBeLessThan(1e-9);
    },
  );

  it('through the origin too', () => {
    const line = fitLineThroughOrigin(t, y);
    if (line === null) throw new Error('no fit');
    expect(relative(line.slope, reference.throughOrigin.slope)).toBeLessThan(1e-12);
    expect(relative(line.slopeStandardError, reference.throughOrigin.standardError)).toBeLessThan(1e-9);
    const squares = t.reduce((sum, value) => sum + value * value, 0);
    const influence = t.map((value) => value / squares);
    const [[variance] = []] = neweyWestCovariance([influence], residualsOf(line.slope, 0), 4);
    expect(relative(Math.sqrt(variance ?? Number.NaN), reference.throughOrigin.neweyWest4)).toBeLessThan(
      1e-9,
    );
  });
});

describe('variance inflation by AR(1) noise', () => {
  // The double sum over the covariance matrix, evaluated exactly for each row.
  it('is exact for slope and mean', () => {
    const rows = table('ar1-inflation.csv');
    expect(rows.length).toBe(35);
    for (const row of rows) {
      const n = row.number('n');
      const rho = row.number('rho');
      expect(relative(ar1SlopeInflation(n, rho), row.number('slope'))).toBeLessThan(1e-9);
      expect(relative(ar1MeanInflation(n, rho), row.number('mean'))).toBeLessThan(1e-9);
    }
  });

  it('is the double sum for any estimate', () => {
    const influences = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(influences, fc.double({ min: -0.99, max: 0.99, noNaN: true }), (a, rho) => {
        const own = a.reduce((sum, value) => sum + value * value, 0);
        fc.pre(own > 1e-3);
        let sum = 0;
        for (const [i, p] of a.entries())
          for (const [j, q] of a.entries()) sum += p * q * rho ** Math.abs(i - j);
        expect(ar1VarianceInflation(a, rho)).toBeCloseTo(sum / own, 9);
      }),
      { seed: 7 },
    );
  });

  it('tends to (1 + rho)/(1 - rho) in long records', () => {
    expect(ar1MeanInflation(1e6, 0.9)).toBeCloseTo(19, 2);
  });
});

describe('inflation by the initial positive sequence', () => {
  it('adds up the autocorrelations to the first negative one', () => {
    // By hand: 1, 2, 0, -1, -2 has autocorrelations 1, 0.4, -0.4, …
    expect(initialPositiveInflation([1, 2, 0, -1, -2])).toBeCloseTo(Math.sqrt(1 + 2 * 0.4), 12);
  });

  it('is 1 for alternating or constant residuals', () => {
    expect(initialPositiveInflation([1, -1, 1, -1])).toBe(1);
    expect(initialPositiveInflation([0, 0, 0])).toBe(1);
    expect(initialPositiveInflation([])).toBe(1);
  });
});
