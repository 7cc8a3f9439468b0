import { normalQuantile, studentQuantile } from '../statistics/index.ts';
import { algorithmA, type RobustSummary, robustMeanUncertainty } from './robust.ts';

/** Spread between groups as earlier terms showed it. */
export interface KnownSpread {
  /** Standard deviation of a group's result, in the unit of the results, > 0. */
  readonly deviation: number;
  /** Degrees of freedom that it was found with, > 0. */
  readonly degreesOfFreedom: number;
}

/** A group's result among those of the others. */
interface GroupScore {
  /** Distance from the robust mean, in robust standard deviations, or in those of earlier terms. */
  readonly score: number;
  readonly lookAgain: boolean;
}

/** Results of groups, each held against all. */
export interface Scored {
  readonly summary: RobustSummary;
  /** In the order of the results. */
  readonly groups: readonly GroupScore[];
  /** Score beyond which a group is asked to look again; null where so few results single nobody out. */
  readonly limit: number | null;
  readonly spread: 'this-class' | 'earlier-terms';
}

/**
 * Limits of the largest score of Algorithm A in a class of normal results, passed by chance in one class out of
 * twenty: simulation of 30 000 classes of each size (12 000 above 30). With fewer than six results the scale follows
 * whatever lies apart, and nobody can be singled out.
 */
const limits: readonly (readonly [count: number, limit: number])[] = [
  [6, 2.62],
  [7, 2.78],
  [8, 2.89],
  [9, 2.94],
  [10, 3.01],
  [12, 3.06],
  [14, 3.13],
  [18, 3.19],
  [20, 3.21],
  [25, 3.25],
  [30, 3.32],
  [40, 3.37],
  [60, 3.44],
  [100, 3.55],
];

/** By how much the limit of a hundred lies above that of as many scores by a spread that is known. */
const beyondTable = 3.55 / 3.4808;

/**
 * The limit for so many groups.
 *
 * @param count of results
 * @returns null below 6
 */
export function lookAgainLimit(count: number): number | null {
  const [smallest] = limits;
  if (smallest === undefined || count < smallest[0]) return null;
  const after = limits.findIndex(([size]) => size >= count);
  if (after === -1) return beyondTable * normalQuantile(1 - 0.025 / count);
  const [upper, above] = limits[after] ?? smallest;
  const [lower, below] = limits[Math.max(0, after - 1)] ?? smallest;
  return upper === lower ? above : below + ((above - below) * (count - lower)) / (upper - lower);
}

/**
 * Holds each group's result against the robust mean of all. An innocent class has a group that is asked to look again in
 * at most one case out of twenty, however small it is: plain scores of 1.48 MAD with a limit of 3 do that in one out of
 * five.
 *
 * @param results one a group, such as ln of measured over predicted; at least 1, finite
 * @param known spread of earlier terms; without it the spread of this class is taken
 */
export function scoreGroups(results: readonly number[], known: KnownSpread | null = null): Scored {
  const summary = algorithmA(results);
  const { location, scale } = summary;
  if (known !== null) {
    // The mean of the class is itself uncertain by so much (ISO 13528:2022, 9.5, z' score).
    const deviation = Math.hypot(known.deviation, robustMeanUncertainty(known.deviation, results.length));
    const limit = studentQuantile(1 - 0.025 / results.length, known.degreesOfFreedom);
    return { summary, groups: scored(results, location, deviation, limit), limit, spread: 'earlier-terms' };
  }
  const limit = scale > 0 ? lookAgainLimit(results.length) : null;
  return { summary, groups: scored(results, location, scale, limit), limit, spread: 'this-class' };
}

function scored(
  results: readonly number[],
  location: number,
  deviation: number,
  limit: number | null,
): GroupScore[] {
  return results.map((result) => {
    const score = deviation > 0 ? (result - location) / deviation : 0;
    return { score, lookAgain: limit !== null && Math.abs(score) > limit };
  });
}
