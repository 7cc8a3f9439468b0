import { studentQuantile } from './student.ts';

/** Lower and upper end. */
export type Interval = readonly [number, number];

/** The coverage probability that is meant where none is named. */
export const usualCoverage = 0.95;

/**
 * Factor by which a standard uncertainty is multiplied to cover the truth with a probability: Student's t for
 * few degrees of freedom, the normal distribution for many (JCGM 100:2008, G.3.2).
 *
 * @param nu degrees of freedom, > 0; Infinity where the standard uncertainty is known exactly
 * @param coverage probability, between 0 and 1
 * @returns NaN outside these ranges
 */
export function coverageFactor(nu: number, coverage: number = usualCoverage): number {
  if (!(coverage > 0 && coverage < 1)) return Number.NaN;
  return studentQuantile((1 + coverage) / 2, nu);
}

/**
 * Interval about a value, symmetric (JCGM 100:2008, 6.2.1 and G.3.2).
 *
 * @param value in any unit
 * @param u standard uncertainty in the same unit, at least 0
 * @param nu degrees of freedom of u, > 0
 * @param coverage probability, between 0 and 1
 */
export function coverageInterval(
  value: number,
  u: number,
  nu: number = Number.POSITIVE_INFINITY,
  coverage: number = usualCoverage,
): Interval {
  const half = coverageFactor(nu, coverage) * u;
  return [value - half, value + half];
}

/**
 * Interval for a positive quantity whose logarithm is known with a standard uncertainty: symmetric in the
 * logarithm, so never below zero. For a small uncertainty it is the symmetric interval.
 *
 * @param value > 0, in any unit
 * @param uLog standard uncertainty of its natural logarithm, which is the relative standard uncertainty of the
 *   value where that is small; at least 0
 * @param nu degrees of freedom of uLog, > 0
 * @param coverage probability, between 0 and 1
 */
export function logCoverageInterval(
  value: number,
  uLog: number,
  nu: number = Number.POSITIVE_INFINITY,
  coverage: number = usualCoverage,
): Interval {
  const factor = Math.exp(coverageFactor(nu, coverage) * uLog);
  return [value / factor, value * factor];
}
