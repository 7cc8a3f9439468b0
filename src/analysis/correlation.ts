import { autocorrelations } from '../statistics/index.ts';

/** Correlation of residuals that lie some blocks apart. */
export interface ResidualLag {
  readonly lag: number;
  readonly value: number;
  /** What chance stays below in 95 % of cases. */
  readonly limit: number;
}

/** Most lags that are shown. */
const mostLags = 40;
/** Fewer residuals show nothing. */
const fewest = 20;
/** Quantile of the normal distribution for 95 %, from both sides. */
const normal95 = 1.959964;

/**
 * Correlation of the residuals from block to block, about zero. The limits are Bartlett's (1946; Box & Jenkins, 1976,
 * 2.1.6): at lag k, the standard deviation of the coefficient if there is none from k on is the square root of
 * (1 + 2 (r₁² + … + r²ₖ₋₁))/n.
 *
 * @param residuals in order of time, K
 */
export function residualCorrelation(residuals: readonly number[]): ResidualLag[] {
  const n = residuals.length;
  if (n < fewest) return [];
  const values = autocorrelations(residuals, Math.min(mostLags, Math.floor(n / 4)), 0);
  const lags: ResidualLag[] = [];
  let before = 0;
  for (const [lag, value] of values.entries()) {
    if (lag === 0) continue;
    if (!Number.isFinite(value)) return [];
    lags.push({ lag, value, limit: normal95 * Math.sqrt((1 + 2 * before) / n) });
    before += value * value;
  }
  return lags;
}
