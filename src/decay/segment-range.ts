import { turningPoints } from './segment-legs.ts';
import { at, fastNoise, runningMedian, type Series } from './segment-series.ts';
import type { SegmentSettings } from './segment-settings.ts';

/** How far a signal moves, and what of it counts. */
export interface Range {
  /** Lowest smoothed value, °C. */
  readonly low: number;
  /** Highest less lowest smoothed value, K. */
  readonly range: number;
  /** Standard deviation of the fast noise of a point, K. */
  readonly noise: number;
  /** Reversals smaller than this do not count, K. */
  readonly reversal: number;
}

/** Range of a smoothed signal and the threshold below which its reversals do not count. */
export function rangeOf(series: Series, smooth: Float64Array, settings: SegmentSettings): Range {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const x of smooth) {
    if (x < low) low = x;
    if (x > high) high = x;
  }
  const noise = fastNoise(series.value);
  const range = high - low;
  return { low, range, noise, reversal: Math.max(0.15 * range, 8 * noise, settings.smallestStep / 2) };
}

/** Whether the signal is flat at first, falls, and comes back: a cold body in warm air, or reversed leads. */
export function looksInverted(series: Series, settings: SegmentSettings): boolean {
  const smooth = runningMedian(series.value, 2);
  const { range, reversal } = rangeOf(series, smooth, settings);
  if (!(range >= settings.smallestStep)) return false;
  const pivots = turningPoints(smooth, reversal);
  const first = pivots[0];
  const second = pivots[1];
  if (first?.kind !== 'top' || second?.kind !== 'bottom' || pivots.length < 3) return false;
  // The first points stand at the level that the last ones return to, and nothing rose above it meanwhile.
  const share = Math.max(3, Math.floor(second.index * 0.15));
  const start = meanOf(smooth, 0, share);
  const later = meanOf(smooth, share, 2 * share);
  const end = meanOf(smooth, smooth.length - share, smooth.length);
  const flat = Math.abs(start - later) < 0.03 * range;
  const returns = end > start - 0.35 * range && end < start + 0.1 * range;
  const top = pivots.reduce((m, p) => Math.max(m, at(smooth, p.index)), Number.NEGATIVE_INFINITY);
  return flat && returns && top < start + 0.15 * range;
}

/** Mean of the values from one index to before another; not a number for none. */
export function meanOf(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += at(values, i);
  return sum / (to - from);
}
