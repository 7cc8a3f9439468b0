import { median, scaledMad } from '../statistics/index.ts';

/** Robust location and scale of a set of results. */
export interface RobustSummary {
  readonly location: number;
  /** In the unit of the results; 0 where more than half of them are equal. */
  readonly scale: number;
  /** Rounds until both stood still. */
  readonly rounds: number;
}

/** Results further than this from the location, in scales, are drawn in. */
const reach = 1.5;
/** Makes the scale that of a normal distribution after results are drawn in. */
const correction = 1.134;
const mostRounds = 200;

/**
 * Robust mean and standard deviation by Algorithm A of ISO 13528:2022, C.3.1: results further than 1.5 s* from x* are
 * drawn in to there, mean and 1.134 times the standard deviation are taken anew, until both stand still. The start is
 * median and scaled median absolute deviation.
 *
 * @param results at least 1, finite, in any unit
 * @throws RangeError where there is none, or one is not finite
 */
export function algorithmA(results: readonly number[]): RobustSummary {
  if (results.length === 0 || !results.every(Number.isFinite)) {
    throw new RangeError('Algorithm A needs at least one result, and all of them finite');
  }
  let location = median(results);
  let scale = scaledMad(results);
  for (let round = 1; round <= mostRounds; round++) {
    const delta = reach * scale;
    const drawn = results.map((x) => Math.min(Math.max(x, location - delta), location + delta));
    const mean = drawn.reduce((sum, x) => sum + x, 0) / drawn.length;
    const squares = drawn.reduce((sum, x) => sum + (x - mean) ** 2, 0);
    const next = drawn.length < 2 ? 0 : correction * Math.sqrt(squares / (drawn.length - 1));
    const still =
      Math.abs(next - scale) <= 1e-12 * scale && Math.abs(mean - location) <= 1e-12 * (scale + 1e-300);
    location = mean;
    scale = next;
    if (still || scale === 0) return { location, scale, rounds: round };
  }
  return { location, scale, rounds: mostRounds };
}

/**
 * Robust mean where the scale is known: Algorithm A with its scale held, so that in a small class a result that lies far
 * off draws the mean, and with it the blame of others, no further than its share of 1.5 scales (ISO 13528:2022, C.3.1;
 * Huber, Ann. Math. Stat. 35 (1964) 73).
 *
 * @param results at least 1, finite
 * @param scale in the unit of the results, > 0
 */
export function robustMeanAtScale(results: readonly number[], scale: number): number {
  if (results.length === 0 || !results.every(Number.isFinite)) {
    throw new RangeError('a robust mean needs at least one result, and all of them finite');
  }
  const delta = reach * scale;
  let location = median(results);
  for (let round = 1; round <= mostRounds; round++) {
    const sum = results.reduce(
      (total, x) => total + Math.min(Math.max(x, location - delta), location + delta),
      0,
    );
    const mean = sum / results.length;
    if (Math.abs(mean - location) <= 1e-12 * scale) return mean;
    location = mean;
  }
  return location;
}

/**
 * Standard uncertainty of a robust mean, ISO 13528:2022, 7.7.3: 1.25 s* over the root of the number of results.
 *
 * @param scale of Algorithm A
 * @param count of results, at least 1
 */
export function robustMeanUncertainty(scale: number, count: number): number {
  return (1.25 * scale) / Math.sqrt(count);
}
