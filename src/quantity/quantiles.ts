import chiSquareDistribution from '@stdlib/stats-base-dists-chisquare-quantile';
import normalDistribution from '@stdlib/stats-base-dists-normal-quantile';
import studentDistribution from '@stdlib/stats-base-dists-t-quantile';

/**
 * Quantile of the standard normal distribution.
 *
 * @param p probability, 0 to 1
 * @returns NaN outside that range
 */
export function normalQuantile(p: number): number {
  return normalDistribution(p, 0, 1);
}

/** Beyond so many degrees of freedom the expansion below is exact to 1e-15. */
const manyDegrees = 1e6;

/**
 * Quantile of Student's t distribution.
 *
 * @param p probability, 0 to 1
 * @param nu degrees of freedom, > 0, whole or not; Infinity gives the normal distribution
 * @returns NaN outside these ranges
 */
export function studentQuantile(p: number, nu: number): number {
  if (nu <= manyDegrees) return studentDistribution(p, nu);
  // Abramowitz & Stegun (1964), 26.7.5, first two terms.
  const z = normalQuantile(p);
  if (!Number.isFinite(z)) return z;
  const first = (z ** 3 + z) / 4;
  const second = (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96;
  return z + first / nu + second / (nu * nu);
}

/**
 * Quantile of the chi-square distribution.
 *
 * @param p probability, 0 to 1
 * @param nu degrees of freedom, > 0
 * @returns NaN outside these ranges
 */
export function chiSquareQuantile(p: number, nu: number): number {
  return chiSquareDistribution(p, nu);
}
