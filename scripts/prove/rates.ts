import { chiSquareQuantile, normalQuantile, studentQuantile } from '../../src/quantity/index.ts';

/** How often something was so, and what that says of how often it is so. */
export interface Rate {
  readonly count: number;
  readonly of: number;
  /** 0 to 1; NaN for none of none. */
  readonly value: number;
  /** 95 %. */
  readonly low: number;
  readonly high: number;
}

/**
 * A rate with its 95 % score interval (Wilson, 1927, J. Am. Stat. Assoc. 22, 209-212).
 *
 * @param count at least 0, at most `of`
 * @param of at least 0
 */
export function rateOf(count: number, of: number): Rate {
  const z = normalQuantile(0.975);
  const value = count / of;
  const middle = (value + (z * z) / (2 * of)) / (1 + (z * z) / of);
  const half = (z / (1 + (z * z) / of)) * Math.sqrt((value * (1 - value)) / of + (z * z) / (4 * of * of));
  return { count, of, value, low: middle - half, high: middle + half };
}

/** A mean with its 95 % interval by Student's t. */
export interface Average {
  readonly of: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** @param values at least two for an interval */
export function averageOf(values: readonly number[]): Average {
  const of = values.length;
  const value = values.reduce((sum, x) => sum + x, 0) / of;
  const variance = values.reduce((sum, x) => sum + (x - value) ** 2, 0) / (of - 1);
  const half = of > 1 ? studentQuantile(0.975, of - 1) * Math.sqrt(variance / of) : Number.NaN;
  return { of, value, low: value - half, high: value + half };
}

/**
 * Efficiency: the variance that the bound allows over the mean squared error, from errors in units of the bound's
 * standard uncertainty. The 95 % interval takes the errors as normal (their sum of squares as chi-square).
 *
 * @param errors in units of the bound
 */
export function efficiencyOf(errors: readonly number[]): Average {
  const of = errors.length;
  const squares = errors.reduce((sum, x) => sum + x * x, 0);
  return {
    of,
    value: of / squares,
    low: chiSquareQuantile(0.025, of) / squares,
    high: chiSquareQuantile(0.975, of) / squares,
  };
}
