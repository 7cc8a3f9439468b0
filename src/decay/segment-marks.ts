import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import { findOnset } from './segment-ambient.ts';
import { type RoughDecay, roughDecay } from './segment-exponential.ts';
import type { Fall } from './segment-falls.ts';
import { type Knee, locateHeatOff } from './segment-knee.ts';
import { baselinePrior, firstBelow, fitRough, roughFitStart } from './segment-rough.ts';
import {
  at,
  fastNoise,
  firstAtOrAfter,
  oriented,
  reduceBlocks,
  runningMedian,
  type Series,
  withoutSpikes,
} from './segment-series.ts';
import type { SegmentSettings } from './segment-settings.ts';
import type { Dip, Segmentation } from './segment-types.ts';

/** What the search on the coarse series found. */
export interface Found {
  readonly coarse: Series;
  readonly smooth: Float64Array;
  readonly falls: readonly Fall[];
  readonly chosen: Fall;
  readonly heatings: readonly Span[];
  readonly dips: readonly Dip[];
  /** Lowest smoothed value, °C. */
  readonly low: number;
  /** Highest less lowest smoothed value, K. */
  readonly range: number;
  /** Fast noise of a point, K. */
  readonly noise: number;
  /** −1 where the signal was turned upside down. */
  readonly sign: 1 | -1;
}

/** The mean of a cooling's points must stand this many times their scatter above its end to be a cooling. */
const leastContrast = 8;

/** A peak may lie before the heat-off by this many time constants, and by this part of the step (common practice, no source). */
const largestDelay = 0.1;
const largestEarlyFall = 0.08;

/**
 * Places the marks around the chosen fall.
 *
 * @param trace recording in °C
 * @param found what the coarse search found
 * @param empty what is returned where no exponential stands out
 * @param settings marks by hand win
 * @param points most points of the finer series
 */
export function placeMarks(
  trace: Trace,
  found: Found,
  empty: Segmentation,
  settings: SegmentSettings,
  points: number,
): Segmentation {
  const { coarse, chosen, low, range, sign } = found;
  const byHand = settings.cooling;
  const nothing: Segmentation = {
    ...empty,
    segments: { ...empty.segments, baseline: settings.baseline, cooling: byHand },
  };
  const firstFrom = byHand
    ? firstAtOrAfter(coarse.time, byHand.from)
    : roughFitStart(found.smooth, chosen.top, chosen.end, low);
  const firstEnd = byHand ? firstAtOrAfter(coarse.time, byHand.to) : chosen.end;
  const first = fitRough(coarse, firstFrom, firstEnd, null, found.noise);
  if (first === null) return nothing;

  const onset = findOnset({
    blocks: trace.blocks,
    sign,
    coarse,
    smooth: found.smooth,
    falls: found.falls,
    chosen,
    noise: found.noise,
    ceiling: low + 0.3 * range,
    range,
    timeConstant: first.timeConstant,
    points,
    mains: settings.mains,
  });
  const baseline = settings.baseline ?? onset?.quiet ?? null;
  const prior = baselinePrior(coarse, baseline, range);
  const topTime = at(coarse.time, chosen.top);
  const endTime = byHand?.to ?? at(coarse.time, chosen.end - 1) + coarse.width / 2;
  const fine = neighbourhood(
    trace,
    found,
    onset?.time ?? 0,
    Math.min(endTime, first.origin + 12 * first.timeConstant),
    points,
  );
  const smooth = runningMedian(fine.value, 2);
  const noise = fastNoise(fine.value);
  const top = indexOfTop(fine, smooth, topTime - 2 * coarse.width, topTime + 2 * coarse.width);
  const from = byHand
    ? firstAtOrAfter(fine.time, byHand.from)
    : roughFitStart(smooth, top, fine.length, prior?.value ?? low);
  const rough = fitRough(fine, from, fine.length, prior, noise);
  if (rough === null) return nothing;
  const stands = range > leastContrast * rough.scatter;
  if (!stands && byHand === null) return nothing;

  const middle = firstBelow(smooth, top, rough.ambient + 0.5 * (at(smooth, top) - rough.ambient));
  const foundKnee = locateHeatOff(fine, 0, middle, rough);
  const knee =
    foundKnee !== null &&
    (beforePeak(foundKnee, fine, top, rough, noise) || farDown(foundKnee, fine, smooth, top, rough, noise))
      ? kneeOfUpperPart({ fine, smooth, top, middle, rough, noise })
      : foundKnee;
  const heatOff = knee?.time ?? null;
  const tau = rough.timeConstant;
  const tail = knee?.tail ?? 0;
  const origin = heatOff ?? byHand?.from ?? at(fine.time, 0);
  const last = at(trace.blocks.time, trace.blocks.length - 1);
  const settled = heatOff === null ? origin : heatOff + settling(tau, tail);
  const cooling = byHand ?? spanOf(settled, Math.min(endTime, last, origin + 10 * tau));
  const heating = onset === null ? null : { from: onset.time, to: heatOff ?? topTime };
  const heated = found.falls.filter((fall) => fall.bottom !== null).indexOf(chosen);
  return {
    segments: {
      baseline,
      heating,
      peak: { time: at(fine.time, top), temperature: sign * at(smooth, top) },
      hotTail:
        heatOff !== null && cooling && cooling.from > heatOff ? { from: heatOff, to: cooling.from } : null,
      cooling,
      heatOff,
      heatings: found.heatings.map((span, i) => (i === heated && heating ? heating : span)),
    },
    broken: null,
    dips: found.dips,
    pattern: sign === -1 ? 'warming' : chosen.bottom === null ? 'starts-hot' : 'cooling',
    rough: {
      timeConstant: tau,
      ambient: sign * rough.ambient,
      excess: sign * rough.excess * Math.exp(-(origin - rough.origin) / tau),
      origin,
      scatter: rough.scatter,
    },
    noise,
    resolution: fine.width,
    tail,
    fitFrom:
      cooling === null ? null : byHand ? byHand.from : Math.max(cooling.from, fitStartTime(heatOff, tau)),
    endFraction: cooling ? Math.exp(-(cooling.to - origin) / tau) : null,
    heatingUsed: heated < 0 ? null : heated + 1,
    byHand: { baseline: settings.baseline !== null, cooling: byHand !== null },
  };
}

/**
 * Whether the heat seems to have gone off earlier before the peak than noise allows. Without lingering hot air
 * the peak is the moment itself: later points are lower by the free cooling, which noise hides for a while.
 * Lingering air delays the peak by up to about 2.5 of its decay times.
 */
function beforePeak(
  { time, tail }: Knee,
  fine: Series,
  top: number,
  rough: RoughDecay,
  noise: number,
): boolean {
  const excess = at(fine.value, top) - rough.ambient;
  const hidden = (6 * noise * rough.timeConstant) / excess;
  return time < at(fine.time, top) - Math.max(4 * fine.width, hidden) - 2.5 * tail;
}

/**
 * Whether the body had cooled a good part before the heat seems to have gone off. Lingering hot air does not let it
 * fall that far: the rate rose during the cooling, and the heat went off near the peak.
 */
function farDown(
  { time }: Knee,
  fine: Series,
  smooth: Float64Array,
  top: number,
  rough: RoughDecay,
  noise: number,
): boolean {
  const peak = at(smooth, top);
  const there = Math.min(firstAtOrAfter(fine.time, time), fine.length - 1);
  const fallen = peak - at(smooth, there);
  const late = time - at(fine.time, top) > largestDelay * rough.timeConstant;
  return late && fallen > Math.max(largestEarlyFall * (peak - rough.ambient), 6 * noise);
}

/** The upper part of a fall, in which a rate that changes later does not count. */
interface UpperPart {
  readonly fine: Series;
  readonly smooth: Float64Array;
  readonly top: number;
  readonly middle: number;
  readonly rough: RoughDecay;
  readonly noise: number;
}

/** When the heat went off by the rate of the first part of the fall: the rate of its end is another. */
function kneeOfUpperPart({ fine, smooth, top, middle, rough, noise }: UpperPart): Knee | null {
  const peak = at(smooth, top);
  const level = (share: number) => firstBelow(smooth, top, rough.ambient + share * (peak - rough.ambient));
  const prior = { value: rough.ambient, uncertainty: Math.max(noise, 0.001 * (peak - rough.ambient)) };
  const peakTime = at(fine.time, top);
  for (const share of [0.5, 0.7, 0.85]) {
    const end = level(share);
    const upper = roughDecay(fine, level(0.97), end, prior, noise);
    const knee = upper === null ? null : locateHeatOff(fine, 0, Math.min(middle, end), upper);
    if (knee === null || upper === null || beforePeak(knee, fine, top, upper, noise)) continue;
    if (knee.tail === 0 && knee.time < peakTime + 0.1 * upper.timeConstant) return knee;
  }
  return { time: peakTime, tail: 0, temperature: peak };
}

/** A finer series from the onset to the end: only that resolves a fast cooling in a long recording. */
function neighbourhood(trace: Trace, found: Found, from: number, to: number, points: number): Series {
  return withoutSpikes(oriented(reduceBlocks(trace.blocks, { from, to }, points, 0), found.sign));
}

/** For how long after the heat is off hot air may linger, s: the fixed rule, longer where a tail was seen. */
function settling(tau: number, tail: number): number {
  return Math.max(Math.min(1, 0.35 * tau), Math.min(4 * tail, 0.7 * tau));
}

/** When the first part of the fall is over, in which a body that is not quite lumped still settles, s. */
function fitStartTime(heatOff: number | null, tau: number): number {
  if (heatOff === null) return Number.NEGATIVE_INFINITY;
  const fraction = tau > 10 ? 0.9 : 0.95;
  return heatOff - Math.log(fraction) * tau;
}

function spanOf(from: number, to: number): Span | null {
  return to > from ? { from, to } : null;
}

function indexOfTop(series: Series, smooth: Float64Array, from: number, until: number): number {
  let top = Math.min(firstAtOrAfter(series.time, from), smooth.length - 1);
  for (let i = top; i < smooth.length && at(series.time, i) <= until; i++) {
    if (at(smooth, i) > at(smooth, top)) top = i;
  }
  return top;
}
