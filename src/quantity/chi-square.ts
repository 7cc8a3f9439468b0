import chiSquareDistribution from '@stdlib/stats-base-dists-chisquare-quantile';

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
