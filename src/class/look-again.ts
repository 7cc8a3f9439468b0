import { normalQuantile, studentQuantile } from '../statistics/index.ts';
import { algorithmA, type RobustSummary, robustMeanAtScale, robustMeanUncertainty } from './robust.ts';

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
  /** What scores are counted in, in the unit of the results. */
  readonly deviation: number;
  /** That it is known with. */
  readonly degreesOfFreedom: number;
  readonly spread: 'this-class' | 'earlier-terms';
}

/** Levels for which limits are tabled. */
const levels = [0.05, 0.01, 0.002] as const;

/**
 * Limits of the largest score of Algorithm A in a class of normal results, passed by chance in so many classes:
 * simulation of 400 000 classes of each size up to 12, 200 000 up to 30, 80 000 up to 60, 40 000 of a hundred. With fewer
 * than six results the scale follows whatever lies apart, and nobody can be singled out.
 */
const limits: readonly (readonly [count: number, ...limits: readonly [number, number, number]])[] = [
  [6, 2.6, 4.18, 6.47],
  [7, 2.78, 4.18, 6.06],
  [8, 2.89, 4.16, 5.79],
  [9, 2.95, 4.11, 5.59],
  [10, 3, 4.07, 5.39],
  [12, 3.06, 4.03, 5.12],
  [14, 3.12, 4.01, 4.91],
  [18, 3.18, 3.98, 4.78],
  [20, 3.19, 3.95, 4.76],
  [25, 3.26, 3.96, 4.64],
  [30, 3.3, 3.95, 4.57],
  [40, 3.36, 3.95, 4.54],
  [60, 3.45, 3.97, 4.49],
  [100, 3.56, 4.02, 4.45],
];

/** By how much the limits of a hundred lie above those of as many scores by a spread that is known. */
const beyondTable = 3.56 / 3.4808;

/**
 * The limit for so many groups.
 *
 * @param count of results
 * @param level how often an innocent class passes it, > 0, at most 0.05
 * @returns null below 6
 */
export function lookAgainLimit(count: number, level = 0.05): number | null {
  const [smallest] = limits;
  if (smallest === undefined || count < smallest[0]) return null;
  const after = limits.findIndex(([size]) => size >= count);
  if (after === -1) return beyondTable * normalQuantile(1 - level / 2 / count);
  const above = limits[after] ?? smallest;
  const below = limits[Math.max(0, after - 1)] ?? smallest;
  const [high, low] = [atLevel(above, level), atLevel(below, level)];
  return above[0] === below[0] ? high : low + ((high - low) * (count - below[0])) / (above[0] - below[0]);
}

/** Between the levels of the table, and beyond its last, a limit goes nearly with the logarithm of the level. */
function atLevel([, usual, rare, rarest]: (typeof limits)[number], level: number): number {
  const [first, second, third] = levels;
  const [from, to, low, high] = level > second ? [first, second, usual, rare] : [second, third, rare, rarest];
  return low + ((high - low) * Math.log(level / from)) / Math.log(to / from);
}

/**
 * Holds each group's result against the robust mean of all. An innocent class has a group that is asked to look again in
 * at most one case out of twenty, however small it is: plain scores of 1.48 MAD with a limit of 3 do that in one out of
 * five.
 *
 * @param results one a group, such as ln of measured over predicted; at least 1, finite
 * @param known spread of earlier terms; without it the spread of this class is taken
 * @param level how often an innocent class has somebody asked, > 0, at most 0.05
 */
export function scoreGroups(
  results: readonly number[],
  known: KnownSpread | null = null,
  level = 0.05,
): Scored {
  const own = algorithmA(results);
  if (known !== null) {
    const summary = { ...own, location: robustMeanAtScale(results, known.deviation) };
    // The mean of the class is itself uncertain by so much (ISO 13528:2022, 9.5, z' score).
    const deviation = Math.hypot(known.deviation, robustMeanUncertainty(known.deviation, results.length));
    const limit = studentQuantile(1 - level / 2 / results.length, known.degreesOfFreedom);
    return {
      summary,
      groups: scored(results, summary.location, deviation, limit),
      limit,
      deviation,
      degreesOfFreedom: known.degreesOfFreedom,
      spread: 'earlier-terms',
    };
  }
  const { location, scale } = own;
  const limit = scale > 0 ? lookAgainLimit(results.length, level) : null;
  return {
    summary: own,
    groups: scored(results, location, scale, limit),
    limit,
    deviation: scale,
    degreesOfFreedom: results.length - 1,
    spread: 'this-class',
  };
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
