import type { Span } from '../remark/index.ts';
import { type Leg, legsBetween, turningPoints } from './segment-legs.ts';
import { riseOnset } from './segment-onset.ts';
import { at, firstAtOrAfter, type Series } from './segment-series.ts';
import type { SegmentSettings } from './segment-settings.ts';
import type { Dip } from './segment-types.ts';

/** One fall of the temperature, as indices of the coarse series. */
export interface Fall {
  /** Index of the top. */
  readonly top: number;
  /** Index behind the last point before the next rise. */
  readonly end: number;
  /** Index of the lowest point between the fall before and this top; null where nothing rises to the top. */
  readonly bottom: number | null;
}

/** Falls of at least three tenths of the range, each with what rose before it. */
export function findFalls(
  series: Series,
  smooth: Float64Array,
  legs: readonly Leg[],
  range: number,
  noise: number,
): Fall[] {
  const falls: Fall[] = [];
  legs.forEach((leg, i) => {
    if (leg.change > -0.3 * range) return;
    const next = legs[i + 1];
    let end = series.length;
    if (next) {
      const onset = riseOnset(
        series,
        smooth,
        { from: next.from, to: next.to, bottom: at(smooth, next.from), height: next.change },
        noise,
      );
      end = Math.max(leg.to, firstAtOrAfter(series.time, onset - 3 * series.width));
    }
    falls.push({ top: leg.from, end, bottom: bottomBefore(legs, i, range) });
  });
  return falls;
}

/**
 * Where the heating before a fall begins: the foot of the rise, or of an earlier one where the heating was only
 * interrupted and what fell meanwhile is no cooling. Null where nothing rises.
 */
function bottomBefore(legs: readonly Leg[], fall: number, range: number): number | null {
  const rise = legs[fall - 1];
  if (!rise || rise.change <= 0) return null;
  let from = rise.from;
  let height = rise.change;
  for (let i = fall - 2; i > 0; i -= 2) {
    const dip = legs[i];
    const earlier = legs[i - 1];
    if (!dip || !earlier || dip.change <= -0.3 * range) break;
    // What rises again must have come down from higher than the foot of the earlier rise.
    if (earlier.change + dip.change <= 0) break;
    from = earlier.from;
    height += dip.change + earlier.change;
  }
  return height >= 0.3 * range ? from : null;
}

/** A fall of this part of the range on the way to the peak is no flutter of the stream. */
const leastDip = 0.08;

/** A dip must be this many standard deviations of the fast noise deep. */
const dipOverNoise = 12;

/**
 * Falls on the way from the bottom before a heating to its top: the heating was interrupted, or one was broken
 * off before it.
 *
 * @param series points
 * @param smooth running median of their values
 * @param fall the one that the heating ends with
 * @param range of the signal, K
 * @param noise standard deviation of a point, K
 */
export function dipsBefore(
  series: Series,
  smooth: Float64Array,
  fall: Fall,
  range: number,
  noise: number,
): Dip[] {
  const { bottom, top } = fall;
  if (bottom === null) return [];
  const climb = smooth.subarray(bottom, top + 1);
  const least = Math.max(leastDip * range, dipOverNoise * noise);
  return legsBetween(climb, turningPoints(climb, least))
    .filter((leg) => leg.change < 0 && leg.to < climb.length - 1)
    .map((leg) => ({
      from: at(series.time, bottom + leg.from),
      to: at(series.time, bottom + leg.to),
      depth: -leg.change,
    }));
}

/** From the onset of the rise to the top of a fall that something rises to, s. */
export function heatingSpan(series: Series, smooth: Float64Array, fall: Fall, noise: number): Span {
  const from = fall.bottom ?? 0;
  const bottom = at(smooth, from);
  const height = at(smooth, fall.top) - bottom;
  const onset = riseOnset(series, smooth, { from, to: fall.top, bottom, height }, noise);
  return { from: onset, to: at(series.time, fall.top) };
}

/** The fall that the settings name, else the last that is complete, else the last. */
export function chooseFall(
  series: Series,
  smooth: Float64Array,
  falls: readonly Fall[],
  low: number,
  settings: SegmentSettings,
): Fall | null {
  if (settings.cooling !== null) {
    const { from, to } = settings.cooling;
    const inside = falls.filter((f) => at(series.time, f.top) < to && at(series.time, f.end - 1) > from);
    return inside.at(-1) ?? { top: firstAtOrAfter(series.time, from), end: series.length, bottom: null };
  }
  if (settings.heating !== null) {
    return falls.filter((fall) => fall.bottom !== null)[settings.heating - 1] ?? null;
  }
  const complete = falls.filter((fall) => {
    const height = at(smooth, fall.top) - low;
    let least = Number.POSITIVE_INFINITY;
    for (let i = fall.top; i < fall.end; i++) least = Math.min(least, at(smooth, i));
    return least - low <= Math.max(settings.endFraction, 0.05) * 1.2 * height;
  });
  return complete.at(-1) ?? falls.at(-1) ?? null;
}
