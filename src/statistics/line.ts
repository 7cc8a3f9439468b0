import { mean, sumOf, sumOfSquares, valueAt } from './summary.ts';

/** A straight line fitted by least squares. */
export interface LineFit {
  readonly n: number;
  readonly slope: number;
  /** Value of the line at x = 0. */
  readonly intercept: number;
  readonly slopeStandardError: number;
  readonly interceptStandardError: number;
  /** Covariance of slope and intercept. */
  readonly covariance: number;
  /** Correlation coefficient of slope and intercept. */
  readonly correlation: number;
  /** n - 2 with an intercept, n - 1 through the origin. */
  readonly degreesOfFreedom: number;
  readonly residualSumOfSquares: number;
  /** Residual standard deviation; NaN where no degree of freedom is left. */
  readonly residualSd: number;
  /** 1 - SSR / sum of (y - mean)², the usual one. */
  readonly rSquaredAboutMean: number;
  /** 1 - SSR / sum of y², which worksheets print for lines through the origin. It is always the larger. */
  readonly rSquaredAboutZero: number;
  /** The (weighted) centre of the data, or the origin: slope and value there are not correlated. */
  readonly centre: { readonly x: number; readonly y: number; readonly standardError: number };
}

/**
 * Least squares line with an intercept. All sums are taken about the centre of the data, so that times as large
 * as seconds since 1970 lose no digits.
 *
 * Standard errors take the readings as independent, with one variance divided by the weight
 * (JCGM 100:2008, H.3.2; Draper & Smith, 1998, chapter 1).
 *
 * @param x where; at least two different ones
 * @param y readings, as many as x
 * @param weights positive, proportional to one over the variance of a reading; equal where left out
 * @returns null where the line is not determined: fewer than two different x, or numbers that are not finite
 */
export function fitLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
): LineFit | null {
  const n = Math.min(x.length, y.length);
  const w = (i: number) => (weights === undefined ? 1 : valueAt(weights, i));
  const firstX = valueAt(x, 0);
  const firstY = valueAt(y, 0);
  const total = sumOf(n, w);
  // Distances from the first point, then from the centre: the centre's own rounding drops out.
  const shiftX = sumOf(n, (i) => w(i) * (valueAt(x, i) - firstX)) / total;
  const shiftY = sumOf(n, (i) => w(i) * (valueAt(y, i) - firstY)) / total;
  const dx = new Float64Array(n);
  const dy = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    dx[i] = valueAt(x, i) - firstX - shiftX;
    dy[i] = valueAt(y, i) - firstY - shiftY;
  }
  const sxx = sumOf(n, (i) => w(i) * valueAt(dx, i) ** 2);
  const sxy = sumOf(n, (i) => w(i) * valueAt(dx, i) * valueAt(dy, i));
  const slope = sxy / sxx;
  if (n < 2 || !(sxx > 0) || !Number.isFinite(slope) || !(total > 0)) return null;
  const ssr = sumOf(n, (i) => w(i) * (valueAt(dy, i) - slope * valueAt(dx, i)) ** 2);
  const degreesOfFreedom = n - 2;
  const variance = degreesOfFreedom > 0 ? ssr / degreesOfFreedom : Number.NaN;
  const centre = { x: firstX + shiftX, y: firstY + shiftY, standardError: Math.sqrt(variance / total) };
  const slopeStandardError = Math.sqrt(variance / sxx);
  const interceptStandardError = Math.sqrt(variance * (1 / total + centre.x ** 2 / sxx));
  const covariance = (-variance * centre.x) / sxx;
  return {
    n,
    slope,
    // About the first point: the rounding of a far centre does not enter.
    intercept: firstY - slope * firstX + (shiftY - slope * shiftX),
    slopeStandardError,
    interceptStandardError,
    covariance,
    correlation: -centre.x / Math.sqrt(sxx / total + centre.x ** 2),
    degreesOfFreedom,
    residualSumOfSquares: ssr,
    residualSd: Math.sqrt(variance),
    rSquaredAboutMean: 1 - ssr / sumOf(n, (i) => w(i) * valueAt(dy, i) ** 2),
    rSquaredAboutZero: 1 - ssr / sumOf(n, (i) => w(i) * valueAt(y, i) ** 2),
    centre,
  };
}

/**
 * Least squares line through the origin (Draper & Smith, 1998, 1.5).
 *
 * @param x where; not all zero
 * @param y readings, as many as x
 * @param weights positive, proportional to one over the variance of a reading; equal where left out
 * @returns null where the line is not determined
 */
export function fitLineThroughOrigin(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
): LineFit | null {
  const n = Math.min(x.length, y.length);
  const w = (i: number) => (weights === undefined ? 1 : valueAt(weights, i));
  const sxx = sumOf(n, (i) => w(i) * valueAt(x, i) ** 2);
  const slope = sumOf(n, (i) => w(i) * valueAt(x, i) * valueAt(y, i)) / sxx;
  if (n < 1 || !(sxx > 0) || !Number.isFinite(slope)) return null;
  const ssr = sumOf(n, (i) => w(i) * (valueAt(y, i) - slope * valueAt(x, i)) ** 2);
  const degreesOfFreedom = n - 1;
  const variance = degreesOfFreedom > 0 ? ssr / degreesOfFreedom : Number.NaN;
  const total = sumOf(n, w);
  const meanY = sumOf(n, (i) => w(i) * valueAt(y, i)) / total;
  return {
    n,
    slope,
    intercept: 0,
    slopeStandardError: Math.sqrt(variance / sxx),
    interceptStandardError: 0,
    covariance: 0,
    correlation: 0,
    degreesOfFreedom,
    residualSumOfSquares: ssr,
    residualSd: Math.sqrt(variance),
    rSquaredAboutMean: 1 - ssr / sumOf(n, (i) => w(i) * (valueAt(y, i) - meanY) ** 2),
    rSquaredAboutZero: 1 - ssr / sumOf(n, (i) => w(i) * valueAt(y, i) ** 2),
    centre: { x: 0, y: 0, standardError: 0 },
  };
}

/**
 * Value of a fitted line and the standard uncertainty that the fit gives it, with the correlation of slope and
 * intercept in it (JCGM 100:2008, H.3.4, equation H.15), added up from the centre, where there is none.
 *
 * @param x where, in the unit of the line's x
 * @returns both in the unit of its y
 */
export function lineAt(fit: LineFit, x: number): { readonly value: number; readonly standardError: number } {
  const distance = x - fit.centre.x;
  return {
    value: fit.centre.y + fit.slope * distance,
    standardError: Math.hypot(fit.centre.standardError, distance * fit.slopeStandardError),
  };
}

/**
 * Correlation coefficient of two series (Pearson), about their means.
 *
 * @returns NaN where one of them does not vary
 */
export function correlation(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const n = Math.min(x.length, y.length);
  const meanX = mean(x);
  const meanY = mean(y);
  const sxy = sumOf(n, (i) => (valueAt(x, i) - meanX) * (valueAt(y, i) - meanY));
  return sxy / Math.sqrt(sumOfSquares(x) * sumOfSquares(y));
}
