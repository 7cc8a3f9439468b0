import type { Span } from '../remark/index.ts';
import { type AmbientPrior, type RoughDecay, roughDecay } from './segment-exponential.ts';
import { meanOf } from './segment-range.ts';
import { at, firstAtOrAfter, type Series } from './segment-series.ts';

/** First index after a top at which the smoothed signal is below a level; the last index where it never is. */
export function firstBelow(smooth: Float64Array, top: number, level: number): number {
  for (let i = top; i < smooth.length; i++) if (at(smooth, i) < level) return i;
  return smooth.length - 1;
}

/**
 * Index from which a fall is fitted first: its lower half, or more of it where it was cut early.
 *
 * @param floor level that it tends to, as far as known, °C
 */
export function roughFitStart(smooth: Float64Array, top: number, end: number, floor: number): number {
  const peak = at(smooth, top);
  const reached = (at(smooth, end - 1) - floor) / (peak - floor);
  const share = reached > 0.35 ? 0.92 : reached > 0.2 ? 0.7 : 0.5;
  return firstBelow(smooth, top, floor + share * (peak - floor));
}

/**
 * Rough exponential from one index on, over nine of its own time constants at most: what comes later says
 * nothing more of the decay, and may be something else.
 */
export function fitRough(
  series: Series,
  from: number,
  end: number,
  prior: AmbientPrior | null,
  noise: number,
): RoughDecay | null {
  let decay = roughDecay(series, from, end, prior, 5 * noise);
  for (let round = 0; round < 3 && decay !== null; round++) {
    const until = firstAtOrAfter(series.time, at(series.time, from) + 9 * decay.timeConstant);
    if (until >= end || until - from < 8) break;
    decay = roughDecay(series, from, until, prior, 5 * noise) ?? decay;
  }
  return decay;
}

/** By how much a jet may differ from the air before it, as a part of the signal's range: 0.7 K of 90 K. */
const ambientShare = 0.008;

/**
 * What a baseline says of the ambient; its uncertainty allows for a jet that is not room air.
 *
 * @param range of the signal, K: only parts of it are used, so that marks do not depend on the scale
 */
export function baselinePrior(series: Series, baseline: Span | null, range: number): AmbientPrior | null {
  if (baseline === null) return null;
  const from = firstAtOrAfter(series.time, baseline.from);
  const to = firstAtOrAfter(series.time, baseline.to);
  return to > from ? { value: meanOf(series.value, from, to), uncertainty: ambientShare * range } : null;
}
