import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import { type AmbientPrior, type RoughDecay, roughDecay } from './segment-exponential.ts';
import { locateHeatOff } from './segment-knee.ts';
import { type Leg, legsBetween, turningPoints } from './segment-legs.ts';
import { quietStretch, riseOnset } from './segment-onset.ts';
import { at, fastNoise, firstAtOrAfter, reduceBlocks, runningMedian, type Series } from './segment-series.ts';
import type { Segments } from './types.ts';

/** How segments are to be found. Times in s, temperatures in °C. */
export interface SegmentSettings {
  /** Mains frequency, Hz. */
  readonly mains: number;
  /** Which heating to take, counted from 1; null for the last whose cooling is complete. */
  readonly heating: number | null;
  /** Whether an approach from below (a cold body warming, a step up) may be taken as the decay. */
  readonly allowWarming: boolean;
  /** Baseline marked by hand; wins over what is found. */
  readonly baseline: Span | null;
  /** Cooling marked by hand; wins over what is found. */
  readonly cooling: Span | null;
  /** Error fraction that a complete cooling reaches. */
  readonly endFraction: number;
  /** Smallest change that is taken for a heating, K. */
  readonly smallestStep: number;
}

/** 50 Hz mains; the last complete cooling down to a tenth; changes below 2 K are no heating. */
export const defaultSegmentSettings: SegmentSettings = {
  mains: 50,
  heating: null,
  allowWarming: false,
  baseline: null,
  cooling: null,
  endFraction: 0.1,
  smallestStep: 2,
};

/**
 * What a recording looks like as a whole. `cooling`: a fall after a heating. `starts-hot`: a fall without a
 * heating before it. `warming`: an approach from below. `rises-only`: a rise that nothing follows. `dips`: a
 * fall from ambient and a return to it. `none`: no change that stands out.
 */
export type Pattern = 'cooling' | 'starts-hot' | 'warming' | 'rises-only' | 'dips' | 'none';

/** Segments and the first, rough numbers that the marks were placed with. */
export interface Segmentation {
  readonly segments: Segments;
  readonly pattern: Pattern;
  /** Rough exponential of the cooling, its origin at the heat-off or the cooling's start; null without one. */
  readonly rough: {
    /** s */
    readonly timeConstant: number;
    /** °C */
    readonly ambient: number;
    /** K at the origin. */
    readonly excess: number;
    /** s */
    readonly origin: number;
    /** Standard deviation of the points about the curve, K. */
    readonly scatter: number;
  } | null;
  /** Standard deviation of the fast noise of a point that was searched, K. */
  readonly noise: number;
  /** Width of the points that were searched, s. */
  readonly resolution: number;
  /** Decay time of hot air after the heat is off, s; 0 where none was seen. */
  readonly tail: number;
  /** Error fraction at the end of the cooling, by the rough exponential; null without one. */
  readonly endFraction: number | null;
  /** Which of the heatings was taken, counted from 1; null where none was. */
  readonly heatingUsed: number | null;
  /** Whether marks were given by hand. */
  readonly byHand: { readonly baseline: boolean; readonly cooling: boolean };
}

/** One fall of the temperature, as indices of the coarse series. */
interface Fall {
  /** Index of the top. */
  readonly top: number;
  /** Index behind the last point before the next rise. */
  readonly end: number;
  /** Index of the lowest point between the fall before and this top; null where nothing rises to the top. */
  readonly bottom: number | null;
}

/** Most points that a recording is searched on. */
const searchPoints = 4000;

/**
 * Finds the parts of a trial: quiet baseline, heating, the moment the heat went off, the hot tail, and the
 * clean cooling.
 *
 * Turning points of the smoothed signal give the falls; one is chosen, its lower half gives a rough
 * exponential, and from there the marks are placed on a finer series of the neighbourhood. The clean cooling
 * starts where the error fraction is below 0.95 (0.9 above 10 s) and at least min(1 s, 0.35 τ) after the heat
 * is off, later where a dying hot stream was seen; it ends before the next rise, at the end of the recording,
 * or ten time constants after the heat is off. Nothing is thrown: what a recording does not have is null.
 *
 * @param trace recording in °C
 * @param settings see there
 */
export function findSegments(trace: Trace, settings: SegmentSettings = defaultSegmentSettings): Segmentation {
  const coarse = reduceBlocks(trace.blocks, null, searchPoints, settings.mains);
  const upright = segment(trace, coarse, settings, 1);
  const inverted = looksInverted(coarse, settings);
  if (upright.segments.cooling !== null && !inverted) return upright;
  if (!settings.allowWarming) {
    if (settings.cooling !== null) return upright;
    const pattern = inverted ? 'dips' : upright.pattern;
    return { ...upright, pattern, segments: inverted ? withoutDecay(upright.segments) : upright.segments };
  }
  const flipped = segment(trace, coarse, settings, -1);
  return flipped.segments.cooling === null ? upright : { ...flipped, pattern: 'warming' };
}

function withoutDecay(segments: Segments): Segments {
  return {
    ...segments,
    heating: null,
    peak: null,
    hotTail: null,
    cooling: null,
    heatOff: null,
    heatings: [],
  };
}

/** The same points with the sign of the values turned. */
function oriented(series: Series, sign: 1 | -1): Series {
  return sign === 1 ? series : { ...series, value: series.value.map((x) => -x) };
}

/** Range of a smoothed signal and the threshold below which its reversals do not count. */
function thresholds(series: Series, smooth: Float64Array, settings: SegmentSettings) {
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
function looksInverted(series: Series, settings: SegmentSettings): boolean {
  const smooth = runningMedian(series.value, 2);
  const { range, reversal } = thresholds(series, smooth, settings);
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

function meanOf(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += at(values, i);
  return sum / (to - from);
}

function segment(trace: Trace, series: Series, settings: SegmentSettings, sign: 1 | -1): Segmentation {
  const coarse = oriented(series, sign);
  const smooth = runningMedian(coarse.value, 2);
  const { low, range, noise, reversal } = thresholds(coarse, smooth, settings);
  const empty = emptySegmentation(coarse, noise, settings);
  if (coarse.length < 8 || !(range >= settings.smallestStep)) return withBaseline(empty, settings);
  const pivots = turningPoints(smooth, reversal);
  const falls = findFalls(coarse, smooth, legsBetween(smooth, pivots), range, noise);
  const heatings = falls
    .filter((fall) => fall.bottom !== null)
    .map((fall) => heatingSpan(coarse, smooth, fall, noise));
  const chosen = chooseFall(coarse, smooth, falls, low, settings);
  if (chosen === null) {
    const rises = legsBetween(smooth, pivots).some((leg) => leg.change > 0.3 * range);
    return withBaseline({ ...empty, pattern: rises ? 'rises-only' : 'none' }, settings);
  }
  return placeMarks(trace, coarse, smooth, { falls, chosen, heatings, low, range, noise }, settings, sign);
}

function emptySegmentation(series: Series, noise: number, settings: SegmentSettings): Segmentation {
  return {
    segments: {
      baseline: null,
      heating: null,
      peak: null,
      hotTail: null,
      cooling: null,
      heatOff: null,
      heatings: [],
    },
    pattern: 'none',
    rough: null,
    noise,
    resolution: series.width,
    tail: 0,
    endFraction: null,
    heatingUsed: null,
    byHand: { baseline: settings.baseline !== null, cooling: settings.cooling !== null },
  };
}

function withBaseline(result: Segmentation, settings: SegmentSettings): Segmentation {
  const { baseline, cooling } = settings;
  return { ...result, segments: { ...result.segments, baseline, cooling } };
}

/** Falls of at least three tenths of the range, each with what rose before it. */
function findFalls(
  series: Series,
  smooth: Float64Array,
  legs: readonly Leg[],
  range: number,
  noise: number,
): Fall[] {
  const falls: Fall[] = [];
  legs.forEach((leg, i) => {
    if (leg.change > -0.3 * range) return;
    const rise = legs[i - 1];
    const next = legs[i + 1];
    let end = series.length;
    if (next) {
      const onset = riseOnset(series, smooth, at(smooth, next.from), next.to, noise, next.from);
      end = Math.max(leg.to, firstAtOrAfter(series.time, onset - 3 * series.width));
    }
    falls.push({ top: leg.from, end, bottom: rise && rise.change >= 0.3 * range ? rise.from : null });
  });
  return falls;
}

function heatingSpan(series: Series, smooth: Float64Array, fall: Fall, noise: number): Span {
  const bottom = fall.bottom ?? 0;
  const onset = riseOnset(series, smooth, at(smooth, bottom), fall.top, noise, bottom);
  return { from: onset, to: at(series.time, fall.top) };
}

/** The fall that the settings name, else the last that is complete, else the last. */
function chooseFall(
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

interface Found {
  readonly falls: readonly Fall[];
  readonly chosen: Fall;
  readonly heatings: readonly Span[];
  readonly low: number;
  readonly range: number;
  readonly noise: number;
}

function placeMarks(
  trace: Trace,
  coarse: Series,
  coarseSmooth: Float64Array,
  found: Found,
  settings: SegmentSettings,
  sign: 1 | -1,
): Segmentation {
  const { chosen, low, range, noise } = found;
  const endTime = settings.cooling?.to ?? at(coarse.time, chosen.end - 1) + coarse.width / 2;
  const first = roughFrom(coarse, coarseSmooth, chosen.top, chosen.end, null, noise, low);
  const empty = emptySegmentation(coarse, noise, settings);
  if (first === null)
    return withBaseline({ ...empty, segments: { ...empty.segments, heatings: found.heatings } }, settings);

  const baseline = settings.baseline ?? findBaseline(coarse, coarseSmooth, found, first.timeConstant);
  const prior = baseline && baselinePrior(coarse, baseline);
  const topTime = at(coarse.time, chosen.top);
  const onsetTime = chosen.bottom === null ? null : heatingSpan(coarse, coarseSmooth, chosen, noise).from;
  const window: Span = {
    from: onsetTime ?? 0,
    to: Math.min(endTime, topTime + 12 * first.timeConstant + 4 * coarse.width),
  };
  // Only a finer series of the neighbourhood resolves a fast cooling in a long recording.
  const fine = oriented(reduceBlocks(trace.blocks, window, searchPoints, 0), sign);
  const smooth = runningMedian(fine.value, 2);
  const fineNoise = fastNoise(fine.value);
  const top = indexOfTop(
    smooth,
    firstAtOrAfter(fine.time, topTime - 2 * coarse.width),
    fine,
    topTime + 2 * coarse.width,
  );
  const rough = roughFrom(fine, smooth, top, fine.length, prior, fineNoise, low);
  if (rough === null) return withBaseline(empty, settings);
  const middle = firstBelow(smooth, top, rough.ambient + 0.5 * (at(smooth, top) - rough.ambient));
  const knee = locateHeatOff(fine, 0, Math.min(middle, fine.length - 1), rough);
  const significant = rough.excess > 0 && range > 6 * rough.scatter;
  if (!significant && settings.cooling === null) return withBaseline({ ...empty, pattern: 'none' }, settings);

  const heatOff = knee?.time ?? null;
  const tau = rough.timeConstant;
  const origin = settings.cooling?.from ?? heatOff ?? at(fine.time, 0);
  const excess = rough.excess * Math.exp(-(origin - rough.origin) / tau);
  const cooling = settings.cooling ?? cleanCooling(origin, heatOff, tau, knee?.tail ?? 0, endTime, trace);
  const hotTail =
    heatOff !== null && cooling && cooling.from > heatOff ? { from: heatOff, to: cooling.from } : null;
  const heating = onsetTime === null ? null : { from: onsetTime, to: heatOff ?? topTime };
  const heated = found.falls.filter((fall) => fall.bottom !== null).indexOf(chosen);
  return {
    segments: {
      baseline,
      heating,
      peak: { time: at(fine.time, top), temperature: sign * at(smooth, top) },
      hotTail,
      cooling,
      heatOff,
      heatings: found.heatings.map((span, i) => (i === heated && heating ? heating : span)),
    },
    pattern: chosen.bottom === null ? 'starts-hot' : 'cooling',
    rough: {
      timeConstant: tau,
      ambient: sign * rough.ambient,
      excess: sign * excess,
      origin,
      scatter: rough.scatter,
    },
    noise: fineNoise,
    resolution: fine.width,
    tail: knee?.tail ?? 0,
    endFraction: cooling ? Math.exp(-(cooling.to - origin) / tau) : null,
    heatingUsed: heated < 0 ? null : heated + 1,
    byHand: { baseline: settings.baseline !== null, cooling: settings.cooling !== null },
  };
}

/** Clean cooling by the fixed rule; null where nothing is left. */
function cleanCooling(
  origin: number,
  heatOff: number | null,
  tau: number,
  tail: number,
  endTime: number,
  trace: Trace,
): Span | null {
  const fraction = tau > 10 ? 0.9 : 0.95;
  const settle = Math.max(-Math.log(fraction) * tau, Math.min(1, 0.35 * tau), Math.min(4 * tail, 0.7 * tau));
  const last = at(trace.blocks.time, trace.blocks.length - 1);
  const from = heatOff === null ? origin : heatOff + settle;
  const to = Math.min(endTime, last, origin + 10 * tau);
  return to > from ? { from, to } : null;
}

function indexOfTop(smooth: Float64Array, from: number, series: Series, until: number): number {
  let top = Math.min(from, smooth.length - 1);
  for (let i = top; i < smooth.length && at(series.time, i) <= until; i++) {
    if (at(smooth, i) > at(smooth, top)) top = i;
  }
  return top;
}

/** First index after a top at which the smoothed signal is below a level; the last index where it never is. */
function firstBelow(smooth: Float64Array, top: number, level: number): number {
  for (let i = top; i < smooth.length; i++) if (at(smooth, i) < level) return i;
  return smooth.length - 1;
}

/** Rough exponential of the lower half of a fall, of more of it where the fall was cut early. */
function roughFrom(
  series: Series,
  smooth: Float64Array,
  top: number,
  end: number,
  prior: AmbientPrior | null,
  noise: number,
  low: number,
): RoughDecay | null {
  const peak = at(smooth, top);
  const floor = prior?.value ?? low;
  const reached = (at(smooth, end - 1) - floor) / (peak - floor);
  const share = reached > 0.35 ? 0.92 : reached > 0.2 ? 0.7 : 0.5;
  const from = firstBelow(smooth, top, floor + share * (peak - floor));
  let decay = roughDecay(series, from, end, prior, 5 * noise);
  for (let round = 0; round < 3 && decay !== null; round++) {
    const until = firstAtOrAfter(series.time, at(series.time, from) + 9 * decay.timeConstant);
    if (until >= end || until - from < 8) break;
    decay = roughDecay(series, from, until, prior, 5 * noise) ?? decay;
    if (until >= end) break;
  }
  return decay;
}

function baselinePrior(series: Series, baseline: Span): AmbientPrior | null {
  const from = firstAtOrAfter(series.time, baseline.from);
  const to = firstAtOrAfter(series.time, baseline.to);
  if (to <= from) return null;
  return { value: meanOf(series.value, from, to), uncertainty: 0.7 };
}

/**
 * Quiet stretch before the chosen heating; where what comes before is another cooling, only what lies seven
 * time constants behind its top can be ambient, and the stretch before the first heating may be the longer.
 */
function findBaseline(series: Series, smooth: Float64Array, found: Found, tau: number): Span | null {
  const ceiling = found.low + 0.3 * found.range;
  const stretches: Span[] = [];
  for (const fall of found.falls) {
    if (fall.bottom === null) continue;
    const onset = heatingSpan(series, smooth, fall, found.noise).from;
    const before = found.falls[found.falls.indexOf(fall) - 1];
    const from = before ? at(series.time, before.top) + 7 * tau : 0;
    const stretch = onset > from ? quietStretch(series, from, onset, ceiling) : null;
    if (stretch) stretches.push(stretch);
    if (fall === found.chosen) break;
  }
  const nearest = stretches.at(-1);
  if (!nearest) return null;
  if (nearest.to - nearest.from >= 15) return nearest;
  return stretches.reduce((a, b) => (b.to - b.from > a.to - a.from ? b : a), nearest);
}
