import { mean, sumOf, sumOfSquares, valueAt } from './summary.ts';

/**
 * Autocorrelation coefficients of a series about its mean, for lags 0 to the given one: the sum over n - k
 * products divided by the sum of all n squares (Box & Jenkins, 1976, 2.1.5; NIST StRD, univariate).
 *
 * @param values equally spaced
 * @param lags largest lag, less than the number of values
 * @param centre taken off before; the mean where left out, 0 for residuals that are about zero by their making
 * @returns NaN in every place where the series does not vary
 */
export function autocorrelations(values: ArrayLike<number>, lags: number, centre = mean(values)): number[] {
  const deviations = new Float64Array(values).map((value) => value - centre);
  const total = lagSum(deviations, 0);
  return Array.from({ length: lags + 1 }, (_, k) => lagSum(deviations, k) / total);
}

/** Sum of products of a series with itself, k places apart. */
function lagSum(deviations: Float64Array, k: number): number {
  return sumOf(
    Math.max(0, deviations.length - k),
    (i) => valueAt(deviations, i) * valueAt(deviations, i + k),
  );
}

/**
 * Durbin and Watson's statistic: about 2 for independent residuals, near 0 for slowly varying ones
 * (Durbin & Watson, 1950).
 *
 * @param residuals in order of time, about zero
 */
export function durbinWatson(residuals: ArrayLike<number>): number {
  const steps = sumOf(Math.max(0, residuals.length - 1), (i) => {
    return (valueAt(residuals, i + 1) - valueAt(residuals, i)) ** 2;
  });
  return steps / sumOf(residuals.length, (i) => valueAt(residuals, i) ** 2);
}

/** Lags beyond this are not looked at: noise that is correlated over more blocks than this is drift. */
const longestLag = 4000;

/**
 * Factor by which correlation between neighbours widens a standard error that took the residuals as
 * independent: the square root of 1 + 2 times the sum of the autocorrelations up to the first that is negative.
 * A robust fallback (after the initial positive sequence of Geyer, 1992), never below 1.
 *
 * @param residuals in order of time, equally spaced, about zero
 */
export function initialPositiveInflation(residuals: ArrayLike<number>): number {
  const deviations = new Float64Array(residuals);
  const total = lagSum(deviations, 0);
  if (!(total > 0)) return 1;
  let sum = 0;
  const last = Math.min(deviations.length - 1, longestLag);
  for (let k = 1; k <= last; k++) {
    const rho = lagSum(deviations, k) / total;
    if (rho < 0) break;
    sum += rho;
  }
  return Math.sqrt(1 + 2 * sum);
}

/**
 * Covariance of estimates that are linear in the readings, robust against unequal variance and against
 * correlation up to a number of lags, with Bartlett's weights 1 - k/(L + 1) (Newey & West, 1987, equation 5).
 *
 * @param influences one array an estimate: how much each reading moves it; a line's are in `lineInfluences`
 * @param residuals of the fit, in order of time
 * @param lags number of lags L; 0 allows for unequal variance only
 * @param parameters parameters of the fit, to scale by n/(n - p) for a small sample; 0 for no scaling
 */
export function neweyWestCovariance(
  influences: readonly ArrayLike<number>[],
  residuals: ArrayLike<number>,
  lags: number,
  parameters = 0,
): number[][] {
  const n = residuals.length;
  const scores = influences.map((influence) =>
    Float64Array.from({ length: n }, (_, i) => valueAt(influence, i) * valueAt(residuals, i)),
  );
  const most = Math.min(lags, n - 1);
  const scale = n / (n - parameters);
  return scores.map((a) =>
    scores.map((b) => {
      let sum = 0;
      for (let k = 0; k <= most; k++) {
        const weight = 1 - k / (lags + 1);
        const pairs = sumOf(n - k, (i) =>
          k === 0
            ? valueAt(a, i) * valueAt(b, i)
            : valueAt(a, i) * valueAt(b, i + k) + valueAt(a, i + k) * valueAt(b, i),
        );
        sum += weight * pairs;
      }
      return scale * sum;
    }),
  );
}

/**
 * How much each reading moves intercept and slope of an unweighted least squares line with an intercept.
 *
 * @param x where the readings were taken; at least two different ones
 */
export function lineInfluences(x: ArrayLike<number>): { intercept: Float64Array; slope: Float64Array } {
  const centre = mean(x);
  const sxx = sumOfSquares(x);
  const slope = new Float64Array(x).map((value) => (value - centre) / sxx);
  const intercept = slope.map((influence) => 1 / x.length - centre * influence);
  return { intercept, slope };
}

/**
 * Factor on the variance of an estimate that is linear in equally spaced readings, when their noise is AR(1)
 * with correlation rho from one to the next, exact for any number of readings:
 * the double sum of a_i a_j rho^|i - j| over the sum of a_i².
 *
 * @param influences how much each reading moves the estimate
 * @param rho between -1 and 1
 */
export function ar1VarianceInflation(influences: ArrayLike<number>, rho: number): number {
  let behind = 0;
  let pairs = 0;
  let own = 0;
  for (let i = 0; i < influences.length; i++) {
    const a = valueAt(influences, i);
    pairs += a * behind;
    own += a * a;
    behind = rho * (behind + a);
  }
  return 1 + (2 * pairs) / own;
}

/**
 * The same factor for the mean of n readings. It tends to (1 + rho)/(1 - rho) for long records and is less for
 * short ones.
 *
 * @param n number of readings
 * @param rho between -1 and 1
 */
export function ar1MeanInflation(n: number, rho: number): number {
  return ar1VarianceInflation(new Float64Array(n).fill(1), rho);
}

/**
 * The same factor for the slope of a line through n equally spaced readings.
 *
 * @param n number of readings, at least 2
 * @param rho between -1 and 1
 */
export function ar1SlopeInflation(n: number, rho: number): number {
  return ar1VarianceInflation(
    Float64Array.from({ length: n }, (_, i) => i - (n - 1) / 2),
    rho,
  );
}
