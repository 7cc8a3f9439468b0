import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import type { Interval } from '../quantity/index.ts';
import { chiSquareQuantile, studentQuantile } from '../statistics/index.ts';

/** Repeatability within groups and reproducibility between them, in the unit of the results. */
export interface Precision {
  readonly mean: number;
  /** Number of groups, and of results. */
  readonly groups: number;
  readonly results: number;
  /** Standard deviation of repeats of one group; null where no group has repeats. */
  readonly repeatability: number | null;
  /** 95 % interval of it. */
  readonly repeatabilityInterval: Interval | null;
  /** Standard deviation of what differs from group to group beyond that, 0 where it does not show. */
  readonly between: number;
  /** Of one result of any group. */
  readonly reproducibility: number;
  /** Approximate 95 % interval of it, by Satterthwaite's degrees of freedom. */
  readonly reproducibilityInterval: Interval;
  readonly degreesOfFreedom: { readonly within: number; readonly between: number };
}

/**
 * Repeatability and reproducibility of groups of repeats by analysis of variance, one way, for unequal numbers as well
 * (ISO 5725-2:2019, 7.4.5; ASTM E691). With equal numbers it is E691's arithmetic. A variance between groups that comes
 * out negative is set to 0, and the reproducibility is then not below the repeatability.
 *
 * @param groups each of at least one finite result; at least 2 groups
 * @throws RangeError with fewer
 */
export function oneWayPrecision(groups: readonly (readonly number[])[]): Precision {
  const filled = groups.filter((group) => group.length > 0);
  const p = filled.length;
  if (p < 2) throw new RangeError(`precision needs results of at least 2 groups: ${p} given`);
  const n = filled.reduce((sum, group) => sum + group.length, 0);
  const grand = filled.reduce((sum, group) => sum + total(group), 0) / n;
  let within = 0;
  let between = 0;
  let squares = 0;
  for (const group of filled) {
    const mean = total(group) / group.length;
    within += group.reduce((sum, x) => sum + (x - mean) ** 2, 0);
    between += group.length * (mean - grand) ** 2;
    squares += group.length ** 2;
  }
  const freedomWithin = n - p;
  const usual = (n - squares / n) / (p - 1);
  const meanBetween = between / (p - 1);
  const variance = freedomWithin > 0 ? within / freedomWithin : null;
  const betweenVariance = Math.max(0, (meanBetween - (variance ?? 0)) / usual);
  const reproducibility = Math.sqrt(variance === null ? meanBetween : betweenVariance + variance);
  const degrees =
    variance === null ? p - 1 : satterthwaite(meanBetween, variance, usual, p - 1, freedomWithin);
  return {
    mean: grand,
    groups: p,
    results: n,
    repeatability: variance === null ? null : Math.sqrt(variance),
    repeatabilityInterval: variance === null ? null : deviationInterval(Math.sqrt(variance), freedomWithin),
    between: variance === null ? reproducibility : Math.sqrt(betweenVariance),
    reproducibility,
    reproducibilityInterval: deviationInterval(reproducibility, degrees),
    degreesOfFreedom: { within: freedomWithin, between: p - 1 },
  };
}

function total(values: readonly number[]): number {
  return values.reduce((sum, x) => sum + x, 0);
}

/** Degrees of freedom of MSB/n0 + MSW (1 − 1/n0) (Satterthwaite, Biometrics Bull. 2 (1946) 110). */
function satterthwaite(between: number, within: number, size: number, freedomB: number, freedomW: number) {
  const a = between / size;
  const b = within * (1 - 1 / size);
  const spread = a ** 2 / freedomB + b ** 2 / freedomW;
  return spread > 0 ? Math.max(1, (a + b) ** 2 / spread) : freedomB;
}

/**
 * 95 % interval of a standard deviation of normal results, by chi-square.
 *
 * @param deviation ≥ 0
 * @param degreesOfFreedom > 0
 */
function deviationInterval(deviation: number, degreesOfFreedom: number): Interval {
  const end = (probability: number) =>
    deviation * Math.sqrt(degreesOfFreedom / chiSquareQuantile(probability, degreesOfFreedom));
  return [end(0.975), end(0.025)];
}

/** Consistency of groups by Mandel's statistics, and their limits of 0.5 %. */
export interface Consistency {
  /** How far a group's mean lies from the others', in standard deviations of the means. */
  readonly h: readonly number[];
  /** How much a group's repeats scatter over the usual. */
  readonly k: readonly number[];
  readonly hLimit: number;
  readonly kLimit: number;
}

/**
 * Mandel's h and k (ASTM E691-20, 15; limits by its equations A1.1 and A1.2 for a level of 0.5 %, numbers of the
 * equations from memory).
 *
 * @param groups at least 3, all of the same number of at least 2 results
 * @returns null where groups are unequal, or nothing differs
 */
export function mandelConsistency(groups: readonly (readonly number[])[]): Consistency | null {
  const p = groups.length;
  const n = groups[0]?.length ?? 0;
  if (p < 3 || n < 2 || groups.some((group) => group.length !== n)) return null;
  const means = groups.map((group) => total(group) / n);
  const grand = total(means) / p;
  const spread = Math.sqrt(means.reduce((sum, x) => sum + (x - grand) ** 2, 0) / (p - 1));
  const deviations = groups.map((group, i) =>
    Math.sqrt(group.reduce((sum, x) => sum + (x - (means[i] ?? 0)) ** 2, 0) / (n - 1)),
  );
  const pooled = Math.sqrt(deviations.reduce((sum, s) => sum + s ** 2, 0) / p);
  if (!(spread > 0 && pooled > 0)) return null;
  const t = studentQuantile(1 - 0.005 / 2, p - 2);
  const f = fQuantile(1 - 0.005, n - 1, (p - 1) * (n - 1));
  return {
    h: means.map((x) => (x - grand) / spread),
    k: deviations.map((s) => s / pooled),
    hLimit: ((p - 1) * t) / Math.sqrt(p * (t ** 2 + p - 2)),
    kLimit: Math.sqrt(p / (1 + (p - 1) / f)),
  };
}
