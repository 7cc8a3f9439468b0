import fc from 'fast-check';
import { linearRegression, linearRegressionLine, rSquared, sampleCorrelation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import {
  correlation,
  fitLine,
  fitLinear,
  fitLineThroughOrigin,
  type LineFit,
  lineAt,
} from '../../src/statistics/index.ts';
import { column, table } from '../reference/tables.ts';

function known<T>(value: T | null): T {
  if (value === null) throw new Error('no fit');
  return value;
}

function expectRelative(found: number | undefined, wanted: number, tolerance: number, what: string): void {
  expect(Math.abs((found ?? Number.NaN) / wanted - 1), `${what}: ${found} for ${wanted}`).toBeLessThan(
    tolerance,
  );
}

const certified = new Map(table('nist-strd/linear.csv').map((row) => [row.text('set'), row]));

function nist(set: string, fitted: (x: number[], y: number[]) => LineFit | null) {
  const file = `nist-strd/${set.toLowerCase()}.csv`;
  return known(fitted(column(file, 'x'), column(file, 'y')));
}

describe('least squares line', () => {
  // NIST StRD Norris, NoInt1, NoInt2: certified to 15 digits.
  it('agrees with Norris to 1e-12', () => {
    const row = known(certified.get('Norris') ?? null);
    const fit = nist('Norris', fitLine);
    expectRelative(fit.slope, row.number('slope'), 1e-13, 'slope');
    expectRelative(fit.intercept, row.number('intercept'), 1e-12, 'intercept');
    expectRelative(fit.slopeStandardError, row.number('slopeStandardError'), 1e-12, 'slope error');
    expectRelative(
      fit.interceptStandardError,
      row.number('interceptStandardError'),
      1e-12,
      'intercept error',
    );
    expectRelative(fit.residualSd, row.number('residualSd'), 1e-12, 'residual sd');
    expectRelative(
      fit.residualSumOfSquares,
      row.number('residualSumOfSquares'),
      1e-12,
      'residual sum of squares',
    );
    expectRelative(fit.rSquaredAboutMean, row.number('rSquared'), 1e-14, 'R²');
    expectRelative(fit.covariance, row.number('covariance'), 1e-12, 'covariance');
  });

  it.each(['NoInt1', 'NoInt2'])('agrees with %s through the origin to 1e-12', (set) => {
    const row = known(certified.get(set) ?? null);
    const fit = nist(set, fitLineThroughOrigin);
    expectRelative(fit.slope, row.number('slope'), 1e-12, 'slope');
    expectRelative(fit.slopeStandardError, row.number('slopeStandardError'), 1e-12, 'slope error');
    expectRelative(fit.residualSd, row.number('residualSd'), 1e-12, 'residual sd');
    expectRelative(fit.rSquaredAboutZero, row.number('rSquared'), 1e-12, 'R² about zero');
    // The R² of these sets is about zero; about the mean it is another number.
    expect(Math.abs(fit.rSquaredAboutMean - row.number('rSquared'))).toBeGreaterThan(1e-3);
    expect(fit.intercept).toBe(0);
  });

  // JCGM 100:2008, H.3: calibration of a thermometer; printed values and, in brackets there, u(b(30)).
  it('agrees with the thermometer of the guide', () => {
    const t = column('jcgm100-h3.csv', 't').map((value) => value - 20);
    const b = column('jcgm100-h3.csv', 'b');
    const fit = known(fitLine(t, b));
    expect(fit.intercept).toBeCloseTo(-0.1712, 4);
    expect(fit.interceptStandardError).toBeCloseTo(0.0029, 4);
    expect(fit.slope).toBeCloseTo(0.00218, 5);
    expect(fit.slopeStandardError).toBeCloseTo(0.00067, 5);
    expect(fit.correlation).toBeCloseTo(-0.93, 3);
    expect(fit.residualSd).toBeCloseTo(0.0035, 4);
    expect(fit.degreesOfFreedom).toBe(9);
    const at30 = lineAt(fit, 10);
    expect(at30.value).toBeCloseTo(-0.1494, 4);
    expect(at30.standardError).toBeCloseTo(0.0041, 4);
    // H.3.5: leaving the correlation out would give 0.0073 (recomputed from the data: 0.0072729).
    const ignored = Math.hypot(fit.interceptStandardError, 10 * fit.slopeStandardError);
    expect(ignored).toBeCloseTo(0.0073, 4);
  });

  it('gives the uncertainty at a point from variances and covariance (JCGM 100, H.15)', () => {
    const fit = nist('Norris', fitLine);
    for (const x of [0, 100, 423, 1000]) {
      const variance =
        fit.interceptStandardError ** 2 + (x * fit.slopeStandardError) ** 2 + 2 * x * fit.covariance;
      expectRelative(lineAt(fit, x).standardError, Math.sqrt(variance), 1e-9, `at ${x}`);
      expect(lineAt(fit, x).value).toBeCloseTo(fit.intercept + fit.slope * x, 9);
    }
  });

  it('is not moved by seconds since 1970', () => {
    // Offsets that a double holds exactly beside the spacing: the shifted problem is the same problem.
    const t = Array.from({ length: 60 }, (_, i) => i);
    const y = t.map((value) => 3 - 0.05 * value + 0.01 * Math.sin(7 * value));
    const near = known(fitLine(t, y));
    for (const offset of [1.7e9, 2 ** 40]) {
      const far = known(
        fitLine(
          t.map((value) => value + offset),
          y,
        ),
      );
      expectRelative(far.slope, near.slope, 1e-13, 'slope');
      expectRelative(far.slopeStandardError, near.slopeStandardError, 1e-12, 'slope error');
      expectRelative(far.residualSd, near.residualSd, 1e-12, 'residual sd');
      expectRelative(lineAt(far, offset + 30).value, lineAt(near, 30).value, 1e-12, 'value');
      expectRelative(
        lineAt(far, offset + 30).standardError,
        lineAt(near, 30).standardError,
        1e-9,
        'its error',
      );
    }
  });

  it('agrees with general libraries on plain data', () => {
    const points = fc.array(
      fc.tuple(fc.integer({ min: -100, max: 100 }), fc.integer({ min: -100, max: 100 })),
      {
        minLength: 3,
        maxLength: 30,
      },
    );
    fc.assert(
      fc.property(points, (pairs) => {
        const x = pairs.map(([a]) => a);
        const y = pairs.map(([, b]) => b);
        fc.pre(new Set(x).size > 1 && new Set(y).size > 1);
        const fit = known(fitLine(x, y));
        const other = linearRegression(pairs.map(([a, b]) => [a, b]));
        expect(fit.slope).toBeCloseTo(other.m, 9);
        expect(fit.intercept).toBeCloseTo(other.b, 8);
        expect(correlation(x, y)).toBeCloseTo(sampleCorrelation(x, y), 9);
        const determined = rSquared(
          pairs.map(([a, b]) => [a, b]),
          linearRegressionLine(other),
        );
        expect(fit.rSquaredAboutMean).toBeCloseTo(determined, 8);
        const general = known(fitLinear([x.map(() => 1), x], y));
        expect(fit.intercept).toBeCloseTo(general.parameters[0] ?? Number.NaN, 8);
        expect(fit.slopeStandardError).toBeCloseTo(general.standardErrors[1] ?? Number.NaN, 8);
        expect(fit.covariance).toBeCloseTo(general.covariance[0]?.[1] ?? Number.NaN, 7);
      }),
      { seed: 5 },
    );
  });

  it('counts a whole weight as so many readings at one place', () => {
    const x = [0, 1, 2, 4];
    const y = [1, 2.5, 2, 5];
    const weights = [1, 3, 2, 1];
    const repeat = (values: number[]) =>
      values.flatMap((value, i) => new Array<number>(weights[i] ?? 0).fill(value));
    const weighted = known(fitLine(x, y, weights));
    const repeated = known(fitLine(repeat(x), repeat(y)));
    expect(weighted.slope).toBeCloseTo(repeated.slope, 13);
    expect(weighted.intercept).toBeCloseTo(repeated.intercept, 13);
    expect(weighted.residualSumOfSquares).toBeCloseTo(repeated.residualSumOfSquares, 12);
    expect(weighted.correlation).toBeCloseTo(repeated.correlation, 12);
    expect(weighted.covariance / weighted.residualSd ** 2).toBeCloseTo(
      repeated.covariance / repeated.residualSd ** 2,
      12,
    );
    const origin = known(fitLineThroughOrigin(x, y, weights));
    expect(origin.slope).toBeCloseTo(known(fitLineThroughOrigin(repeat(x), repeat(y))).slope, 13);
  });

  it('has no answer where the line is not determined', () => {
    expect(fitLine([1, 1, 1], [1, 2, 3])).toBeNull();
    expect(fitLine([1], [1])).toBeNull();
    expect(fitLine([], [])).toBeNull();
    expect(fitLine([0, 1, Number.NaN], [1, 2, 3])).toBeNull();
    expect(fitLine([0, 1, 2], [1, Number.POSITIVE_INFINITY, 3])).toBeNull();
    expect(fitLineThroughOrigin([0, 0], [1, 2])).toBeNull();
    expect(fitLine([0, 1], [1, 2])?.slopeStandardError).toBeNaN();
  });
});

describe('general linear least squares', () => {
  it('agrees with Norris to 1e-11', () => {
    const row = known(certified.get('Norris') ?? null);
    const x = column('nist-strd/norris.csv', 'x');
    const fit = known(fitLinear([x.map(() => 1), x], column('nist-strd/norris.csv', 'y')));
    expectRelative(fit.parameters[0], row.number('intercept'), 1e-11, 'intercept');
    expectRelative(fit.parameters[1], row.number('slope'), 1e-13, 'slope');
    expectRelative(fit.standardErrors[0], row.number('interceptStandardError'), 1e-12, 'intercept error');
    expectRelative(fit.standardErrors[1], row.number('slopeStandardError'), 1e-12, 'slope error');
    expectRelative(fit.residualSd, row.number('residualSd'), 1e-12, 'residual sd');
  });

  it('finds a polynomial that has no noise', () => {
    const x = Array.from({ length: 21 }, (_, i) => i);
    const columns = [0, 1, 2, 3, 4, 5].map((power) => x.map((value) => value ** power));
    // The design of NIST StRD Wampler1: y = 1 + x + … + x⁵, exact, all parameters 1, residual sd 0.
    const y = x.map((value) => columns.reduce((sum, powers) => sum + (powers[value] ?? 0), 0));
    const fit = known(fitLinear(columns, y));
    for (const parameter of fit.parameters) expect(Math.abs(parameter - 1)).toBeLessThan(1e-8);
    expect(fit.residualSd).toBeLessThan(1e-6);
  });

  it('has no answer for dependent columns or too few readings', () => {
    expect(
      fitLinear(
        [
          [1, 1, 1],
          [2, 2, 2],
        ],
        [1, 2, 3],
      ),
    ).toBeNull();
    expect(fitLinear([[1], [2]], [1])).toBeNull();
    expect(fitLinear([[0, 0, 0]], [1, 2, 3])).toBeNull();
    expect(fitLinear([], [1, 2, 3])).toBeNull();
  });
});
