import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/practice/random.ts';
import {
  type Arma,
  ArmaFilter,
  armaAutocovariance,
  armaCorrelationTime,
  armaCovariance,
  armaLongRunVariance,
  armaVariance,
  fitArma,
  restrictedLikelihood,
  stepsBetween,
} from '../../src/statistics/index.ts';
import { table } from '../reference/tables.ts';

/** Weights of the process as an infinite moving average (Brockwell & Davis, 1991, equation 3.3.2). */
function movingAverage({ phi, theta }: Arma, terms: number): number[] {
  const psi = [1];
  for (let k = 1; k < terms; k++) psi.push(k === 1 ? phi + theta : phi * (psi[k - 1] ?? Number.NaN));
  return psi;
}

function covarianceBySum(process: Arma, lag: number): number {
  const psi = movingAverage(process, 4000);
  let sum = 0;
  for (let j = 0; j + lag < psi.length; j++) sum += (psi[j] ?? 0) * (psi[j + lag] ?? 0);
  return process.innovation ** 2 * sum;
}

/** Determinant and inverse of a matrix by elimination with pivots, on plain arrays. */
function invert(matrix: number[][]): { logDeterminant: number; inverse: number[][] } {
  const n = matrix.length;
  const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  let logDeterminant = 0;
  for (let k = 0; k < n; k++) {
    const pivot = work.findIndex((row, i) => i >= k && Math.abs(row[k] ?? 0) === largest(work, k));
    [work[k], work[pivot]] = [work[pivot] ?? [], work[k] ?? []];
    const top = work[k] ?? [];
    const scale = top[k] ?? Number.NaN;
    logDeterminant += Math.log(Math.abs(scale));
    for (let j = 0; j < 2 * n; j++) top[j] = (top[j] ?? 0) / scale;
    work.forEach((row, i) => {
      const factor = row[k] ?? 0;
      if (i !== k) for (let j = 0; j < 2 * n; j++) row[j] = (row[j] ?? 0) - factor * (top[j] ?? 0);
    });
  }
  return { logDeterminant, inverse: work.map((row) => row.slice(n)) };
}

function largest(work: number[][], k: number): number {
  return Math.max(...work.slice(k).map((row) => Math.abs(row[k] ?? 0)));
}

function form(a: ArrayLike<number>, m: number[][], b: ArrayLike<number>): number {
  let sum = 0;
  m.forEach((row, i) => {
    row.forEach((value, j) => {
      sum += (a[i] ?? Number.NaN) * value * (b[j] ?? Number.NaN);
    });
  });
  return sum;
}

function series(process: Arma, n: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  const out = new Float64Array(n);
  let x = 0;
  let e = random.normal();
  for (let i = -500; i < n; i++) {
    const next = random.normal();
    x = process.phi * x + next + process.theta * e;
    e = next;
    if (i >= 0) out[i] = process.innovation * x;
  }
  return out;
}

const processes: readonly Arma[] = [
  { phi: 0, theta: 0, innovation: 2 },
  { phi: 0.7, theta: 0, innovation: 0.5 },
  { phi: 0, theta: 0.3, innovation: 1 },
  { phi: 0.9, theta: -0.6, innovation: 1.5 },
  { phi: 0.6, theta: 0.25, innovation: 0.1 },
  { phi: -0.4, theta: 0.1, innovation: 1 },
];

describe('an ARMA(1,1) process', () => {
  it.each(processes)('has the covariances of its infinite moving average: %o', (process) => {
    expect(armaVariance(process)).toBeCloseTo(covarianceBySum(process, 0), 12);
    for (const lag of [0, 1, 2, 3, 10, 40]) {
      expect(armaAutocovariance(process, lag)).toBeCloseTo(covarianceBySum(process, lag), 12);
      expect(armaAutocovariance(process, -lag)).toBe(armaAutocovariance(process, lag));
    }
  });

  it.each(processes)('has a long-run variance that sums its covariances: %o', (process) => {
    let sum = covarianceBySum(process, 0);
    for (let k = 1; k < 400; k++) sum += 2 * armaAutocovariance(process, k);
    expect(armaLongRunVariance(process)).toBeCloseTo(sum, 10);
  });

  it('forgets by e in its correlation time', () => {
    const process = { phi: Math.exp(-1 / 7), theta: 0.2, innovation: 1 };
    expect(armaCorrelationTime(process)).toBeCloseTo(7, 12);
    expect(armaAutocovariance(process, 8) / armaAutocovariance(process, 1)).toBeCloseTo(Math.exp(-1), 12);
  });

  it.each(
    table('ar1-inflation.csv').map((row) => ({
      n: row.number('n'),
      rho: row.number('rho'),
      mean: row.number('mean'),
      slope: row.number('slope'),
    })),
  )('inflates the variance of a mean and a slope as known: n $n, rho $rho', ({ n, rho, mean, slope }) => {
    const process = { phi: rho, theta: 0, innovation: Math.sqrt(1 - rho * rho) };
    const steps = stepsBetween(Array.from({ length: n }, (_, i) => i));
    const ones = new Float64Array(n).fill(1 / n);
    expect((armaCovariance(process, steps, ones, ones) * n) / mean).toBeCloseTo(1, 12);
    const centred = Float64Array.from({ length: n }, (_, i) => i - (n - 1) / 2);
    const squares = centred.reduce((sum, v) => sum + v * v, 0);
    expect(armaCovariance(process, steps, centred, centred) / squares / slope).toBeCloseTo(1, 11);
  });
});

const positions = [0, 1, 2, 5, 6, 7, 8, 12, 13, 14, 20, 21, 22, 23];

describe('the filter of an ARMA(1,1) process', () => {
  it.each(processes)('has the dense covariance matrix of its process, gaps included: %o', (process) => {
    const n = positions.length;
    const dense = positions.map((p) =>
      positions.map((q) => covarianceBySum({ ...process, innovation: 1 }, Math.abs(p - q))),
    );
    const { logDeterminant, inverse } = invert(dense);
    const filter = new ArmaFilter(n, stepsBetween(positions));
    filter.prepare(process.phi, process.theta);
    expect(filter.logDeterminant).toBeCloseTo(logDeterminant, 10);
    const x = series(process, n, 3);
    const y = series(process, n, 4);
    const wx = filter.whiten(x);
    const wy = filter.whiten(y);
    expect(wx.reduce((sum, v, i) => sum + v * (wy[i] ?? 0), 0)).toBeCloseTo(form(x, inverse, y), 10);
    const steps = stepsBetween(positions);
    expect(armaCovariance(process, steps, x, y)).toBeCloseTo(process.innovation ** 2 * form(x, dense, y), 10);
  });

  it.each([1, 2, 3, 5])('whitens %i series at once as one after another', (count) => {
    const filter = new ArmaFilter(positions.length, stepsBetween(positions));
    filter.prepare(0.8, -0.3);
    const all = Array.from({ length: count }, (_, k) =>
      series({ phi: 0.5, theta: 0, innovation: 1 }, 14, k + 1),
    );
    const out = all.map(() => new Float64Array(14));
    filter.whitenAll(all, out);
    expect(out).toEqual(all.map((one) => filter.whiten(one)));
  });

  it('transposes', () => {
    const values = fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 14, maxLength: 14 });
    fc.assert(
      fc.property(
        values,
        values,
        fc.double({ min: -0.9, max: 0.99, noNaN: true }),
        fc.double({ min: -0.9, max: 0.5, noNaN: true }),
        (x, z, phi, theta) => {
          const filter = new ArmaFilter(14, stepsBetween(positions));
          filter.prepare(phi, theta);
          const there = filter.whiten(x).reduce((sum, v, i) => sum + v * (z[i] ?? 0), 0);
          const back = filter.whitenTransposed(z).reduce((sum, v, i) => sum + v * (x[i] ?? 0), 0);
          expect(Math.abs(there - back)).toBeLessThan(1e-9 * (1 + Math.abs(there)));
        },
      ),
      { seed: 7, numRuns: 200 },
    );
  });

  it('refuses positions that do not rise on a grid', () => {
    expect(() => stepsBetween([0, 1, 1])).toThrow(RangeError);
    expect(() => stepsBetween([0, 1.5])).toThrow(/whole and rising/);
    expect(() => stepsBetween([0, Number.NaN])).toThrow(RangeError);
  });
});

describe('the restricted likelihood', () => {
  const n = positions.length;
  const ones = new Float64Array(n).fill(1);
  const slope = Float64Array.from(positions);

  it.each(processes)('equals the dense computation: %o', (process) => {
    const x = series(process, n, 11);
    const dense = positions.map((p) =>
      positions.map((q) => covarianceBySum({ ...process, innovation: 1 }, Math.abs(p - q))),
    );
    const { logDeterminant, inverse } = invert(dense);
    // Projection by the normal equations of generalized least squares (Harville, Biometrika 61 (1974) 383).
    const gram = [ones, slope].map((a) => [ones, slope].map((b) => form(a, inverse, b)));
    const normal = invert(gram);
    const score = [ones, slope].map((a) => form(a, inverse, x));
    const rss = form(x, inverse, x) - form(score, normal.inverse, score);
    const expected = (n - 2) * Math.log(rss / (n - 2)) + logDeterminant + normal.logDeterminant;
    const found = restrictedLikelihood(x, [ones, slope], positions)(process.phi, process.theta);
    expect(found.objective).toBeCloseTo(expected, 9);
    expect(found.innovationVariance).toBeCloseTo(rss / (n - 2), 9);
  });

  it('has the closed forms of white noise and of AR(1)', () => {
    const x = series({ phi: 0.5, theta: 0, innovation: 1 }, 50, 5);
    const squares = x.reduce((sum, v) => sum + v * v, 0);
    const white = restrictedLikelihood(x)(0, 0);
    expect(white.innovationVariance).toBeCloseTo(squares / 50, 12);
    expect(white.objective).toBeCloseTo(50 * Math.log(squares / 50), 10);
    const phi = 0.5;
    let s = (1 - phi * phi) * (x[0] ?? 0) ** 2;
    for (let i = 1; i < 50; i++) s += ((x[i] ?? 0) - phi * (x[i - 1] ?? 0)) ** 2;
    const ar = restrictedLikelihood(x)(phi, 0);
    expect(ar.innovationVariance).toBeCloseTo(s / 50, 12);
    expect(ar.objective).toBeCloseTo(50 * Math.log(s / 50) - Math.log(1 - phi * phi), 10);
  });

  it('gives the sample variance of white noise about a mean', () => {
    const x = series({ phi: 0, theta: 0, innovation: 1 }, 30, 6);
    const mean = x.reduce((a, b) => a + b, 0) / 30;
    const variance = x.reduce((sum, v) => sum + (v - mean) ** 2, 0) / 29;
    const found = restrictedLikelihood(x, [new Float64Array(30).fill(1)])(0, 0);
    expect(found.innovationVariance).toBeCloseTo(variance, 12);
  });
});

describe('fitting an ARMA(1,1) process', () => {
  it.each([
    { phi: 0.8, theta: 0.2, innovation: 0.3 },
    { phi: 0.95, theta: -0.5, innovation: 2 },
    { phi: 0.98, theta: 0.1, innovation: 1 },
    { phi: 0.5, theta: 0.25, innovation: 0.01 },
  ])('finds the coefficients of a long series: %o', (process) => {
    const n = 4000;
    const fit = fitArma(series(process, n, 21), { jacobian: [new Float64Array(n).fill(1)] });
    // Asymptotic covariance: Brockwell & Davis (1991), example 8.8.3; four standard errors.
    const common = (1 + process.phi * process.theta) ** 2 / (n * (process.phi + process.theta) ** 2);
    expect(Math.abs(fit.phi - process.phi)).toBeLessThan(4 * Math.sqrt((1 - process.phi ** 2) * common));
    expect(Math.abs(fit.theta - process.theta)).toBeLessThan(
      4 * Math.sqrt((1 - process.theta ** 2) * common),
    );
    expect(Math.abs(fit.innovation / process.innovation - 1)).toBeLessThan(4 / Math.sqrt(2 * n));
  });

  it('comes as low as a fine grid over the coefficients', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const process = processes[seed % 5] ?? { phi: 0, theta: 0, innovation: 1 };
      const x = series(process, 200, seed);
      const ones = [new Float64Array(200).fill(1)];
      const likelihood = restrictedLikelihood(x, ones);
      let lowest = Number.POSITIVE_INFINITY;
      for (let phi = 0.01; phi < Math.exp(-8 / 200); phi += 0.02) {
        for (let theta = 0.01 - phi; theta < 0.34; theta += 0.02) {
          lowest = Math.min(lowest, likelihood(phi, theta).objective);
        }
      }
      expect(fitArma(x, { jacobian: ones }).objective).toBeLessThan(lowest + 0.01);
    }
  });

  it('is not misled by gaps', () => {
    const process = { phi: 0.8, theta: 0.2, innovation: 1 };
    const x = series(process, 5000, 31);
    const random = seededRandom(9);
    const kept = Array.from(x.keys()).filter(() => random.uniform() > 0.3);
    const fit = fitArma(
      kept.map((i) => x[i] ?? Number.NaN),
      { positions: kept },
    );
    const closedUp = fitArma(kept.map((i) => x[i] ?? Number.NaN));
    expect(Math.abs(fit.phi - process.phi)).toBeLessThan(0.05);
    expect(closedUp.phi).toBeLessThan(fit.phi - 0.02);
  });

  it('finds the long-run variance on average, although the mean was taken out of the series', () => {
    const process = { phi: 0.9, theta: 0.1, innovation: 1 };
    const ratios: number[] = [];
    for (let seed = 1; seed <= 300; seed++) {
      const x = series(process, 300, 1000 + seed);
      const mean = x.reduce((a, b) => a + b, 0) / x.length;
      const fit = fitArma(
        x.map((v) => v - mean),
        { jacobian: [new Float64Array(300).fill(1)] },
      );
      ratios.push(Math.sqrt(armaLongRunVariance(fit) / armaLongRunVariance(process)));
    }
    const sorted = ratios.sort((a, b) => a - b);
    // The median ratio of standard deviations; its standard error is about 0.014.
    expect(sorted[150]).toBeGreaterThan(0.95);
    expect(sorted[150]).toBeLessThan(1.05);
  });

  it('does not take white noise for a slow wandering', () => {
    for (let seed = 1; seed <= 40; seed++) {
      const fit = fitArma(series({ phi: 0, theta: 0, innovation: 1 }, 400, seed), {
        jacobian: [new Float64Array(400).fill(1)],
      });
      expect(armaLongRunVariance(fit)).toBeLessThan(12);
    }
  });

  it('says what it cannot use', () => {
    expect(() => fitArma([1, 2])).toThrow(/at least 3 residuals, but there are 2/);
    expect(() => fitArma([1, 2, Number.NaN, 4])).toThrow(RangeError);
    expect(fitArma(new Float64Array(20)).innovation).toBe(0);
  });
});
