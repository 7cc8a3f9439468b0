import { studentQuantile } from '../statistics/index.ts';
import type { CleanBlocks } from './clean.ts';
import { at } from './segment-series.ts';
import type { ClassroomValue } from './types.ts';

/** Which readings a class puts into its regression, and how. */
export interface ClassroomRegression {
  /** Temperature and time of the start, °C, s. */
  readonly start: { readonly time: number; readonly temperature: number };
  /** °C */
  readonly ambient: number;
  /** Readings with an error fraction between these are taken. */
  readonly upper: number;
  readonly lower: number;
  readonly intercept: boolean;
  /** Spacing of the readings, s. */
  readonly samplePeriod: number;
}

/** Sums over single readings of x = time, s, and y = ln of the error fraction. */
export interface RegressionSums {
  n: number;
  x: number;
  y: number;
  xx: number;
  xy: number;
  yy: number;
}

/** A regression with the sums that it was made from, so that it can be done again by hand. */
export interface WorkedRegression extends ClassroomValue {
  readonly sums: Readonly<RegressionSums>;
}

/**
 * The time constant −1/slope from a regression of ln of the error fraction on time, as a class would print it:
 * ordinary standard error, carried to the time constant by τ² u(slope), times Student's t for 95 %.
 *
 * Blocks stand for their readings: what the readings of a block scatter enters by the block's own sum of
 * squares, so that the result is that of a regression on the single readings. It is exact where a block is one
 * reading; else ln is expanded to second order within a block and the readings of a block are taken as evenly
 * spaced, which changes the standard error by some 1e-4 of itself.
 *
 * @param blocks the recording's own, from the start on, wild readings taken out
 * @returns null where fewer than three readings fall between the fractions or the slope is not negative
 */
export function classroomRegression(blocks: CleanBlocks, rule: ClassroomRegression): WorkedRegression | null {
  // The covariance of time and logarithm within a block needs the slope: once round with none, once with it.
  const first = slopeOf(sumUp(blocks, rule, 0), rule.intercept);
  const sums = sumUp(blocks, rule, first);
  const slope = slopeOf(sums, rule.intercept);
  const freedom = sums.n - (rule.intercept ? 2 : 1);
  if (!(slope < 0) || freedom < 1) return null;
  const { sxx, sxy, syy } = aboutCentre(sums, rule.intercept);
  const residual = Math.max(0, syy - slope * sxy);
  const value = -1 / slope;
  const standardError = value ** 2 * Math.sqrt(residual / freedom / sxx);
  const half = studentQuantile(0.975, freedom) * standardError;
  return { value, standardError, interval: [value - half, value + half], sums };
}

function slopeOf(sums: RegressionSums, intercept: boolean): number {
  const { sxx, sxy } = aboutCentre(sums, intercept);
  return sxx > 0 ? sxy / sxx : Number.NaN;
}

function aboutCentre(s: RegressionSums, intercept: boolean): { sxx: number; sxy: number; syy: number } {
  if (!intercept) return { sxx: s.xx, sxy: s.xy, syy: s.yy };
  return { sxx: s.xx - (s.x * s.x) / s.n, sxy: s.xy - (s.x * s.y) / s.n, syy: s.yy - (s.y * s.y) / s.n };
}

/** Sums over the readings; `slope` is what y changes with time within a block. */
function sumUp(blocks: CleanBlocks, rule: ClassroomRegression, slope: number): RegressionSums {
  const step = rule.start.temperature - rule.ambient;
  const sums: RegressionSums = { n: 0, x: 0, y: 0, xx: 0, xy: 0, yy: 0 };
  for (let i = 0; i < blocks.length; i++) {
    const x = at(blocks.time, i) - rule.start.time;
    const excess = at(blocks.mean, i) - rule.ambient;
    const fraction = excess / step;
    if (x <= 0 || fraction >= rule.upper || fraction <= rule.lower) continue;
    const n = at(blocks.count, i);
    const relative = at(blocks.squares, i) / excess ** 2;
    const y = Math.log(fraction) - relative / (2 * n);
    // n evenly spaced times: sum of squares n (n² − 1)/12 spacings².
    const spread = (rule.samplePeriod ** 2 * n * (n * n - 1)) / 12;
    sums.n += n;
    sums.x += n * x;
    sums.y += n * y;
    sums.xx += n * x * x + spread;
    sums.xy += n * x * y + slope * spread;
    sums.yy += n * y * y + relative;
  }
  return sums;
}
