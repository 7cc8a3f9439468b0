import type { Blocks } from '../recording/index.ts';
import type { Trace } from '../sensing/index.ts';
import { median } from '../statistics/index.ts';
import { remembered } from './remembered.ts';
import { chooseFall, dipsBefore, findFalls, heatingSpan } from './segment-falls.ts';
import { type Leg, legsBetween, turningPoints } from './segment-legs.ts';
import { placeMarks } from './segment-marks.ts';
import { looksInverted, rangeOf } from './segment-range.ts';
import {
  at,
  firstAtOrAfter,
  oriented,
  reduceBlocks,
  runningMedian,
  type Series,
  withoutSpikes,
} from './segment-series.ts';
import { defaultSegmentSettings, type SegmentSettings } from './segment-settings.ts';
import type { BrokenFall, Segmentation } from './segment-types.ts';

/** Most points that a recording is searched on. */
const searchPoints = 4000;

/** A signal that moves by fewer standard deviations of its fast noise than this shows no trial. */
const leastOverNoise = 20;

/** The whole recording on few enough points to be searched, without single spikes. */
const searchedSeries = remembered((blocks: Blocks, mains: number) =>
  withoutSpikes(reduceBlocks(blocks, null, searchPoints, mains)),
);

/**
 * Finds the parts of a trial: quiet baseline, heating, the moment the heat went off, the hot tail, and the
 * clean cooling.
 *
 * Turning points of the smoothed signal give the falls; one is chosen, its lower half gives a rough
 * exponential, and from there the marks are placed on a finer series of the neighbourhood. The clean cooling
 * starts min(1 s, 0.35 τ) after the heat is off, later where a dying hot stream was seen; it ends before the
 * next rise, at the end of the recording, or ten time constants after the heat is off. The fit starts with it,
 * but not before the error fraction is below 0.95 (0.9 above 10 s). Nothing is thrown: what a recording does
 * not have is null.
 *
 * @param trace recording in °C
 * @param settings see there
 */
export function findSegments(trace: Trace, settings: SegmentSettings = defaultSegmentSettings): Segmentation {
  const coarse = searchedSeries(trace.blocks, settings.mains);
  if (settings.cooling !== null) {
    const sign = fallsWithin(coarse, settings.cooling.from, settings.cooling.to) ? 1 : -1;
    return segment(trace, coarse, settings, sign);
  }
  const inverted = looksInverted(coarse, settings);
  const upright = segment(trace, coarse, settings, 1);
  if (upright.segments.cooling !== null && !inverted) return upright;
  if (settings.allowWarming) {
    const flipped = segment(trace, coarse, settings, -1);
    if (flipped.segments.cooling !== null) return flipped;
  }
  return inverted ? { ...emptySegmentation(coarse, upright.noise, settings), pattern: 'dips' } : upright;
}

/** Whether the signal is higher in the first tenth of a stretch than in its last. */
function fallsWithin(series: Series, from: number, to: number): boolean {
  const lo = firstAtOrAfter(series.time, from);
  const hi = firstAtOrAfter(series.time, to);
  const tenth = Math.max(1, Math.floor((hi - lo) / 10));
  let difference = 0;
  for (let i = 0; i < tenth; i++) difference += at(series.value, lo + i) - at(series.value, hi - 1 - i);
  return !(difference < 0);
}

function segment(trace: Trace, series: Series, settings: SegmentSettings, sign: 1 | -1): Segmentation {
  const coarse = oriented(series, sign);
  const smooth = runningMedian(coarse.value, 2);
  const { low, range, noise, reversal } = rangeOf(coarse, smooth, settings);
  const empty = emptySegmentation(coarse, noise, settings);
  const small = !(range >= Math.max(settings.smallestStep, leastOverNoise * noise));
  if (coarse.length < 8 || small) return withBaseline(empty, settings);
  const legs = legsBetween(smooth, turningPoints(smooth, reversal));
  // Here without the allowance for fast noise: noise must not hide that the signal only wanders.
  const moves = legsBetween(smooth, turningPoints(smooth, 0.15 * range));
  if (wandersAbout(moves, range)) return withBaseline(empty, settings);
  const falls = findFalls(coarse, smooth, legs, range, noise);
  const heatings = falls
    .filter((fall) => fall.bottom !== null)
    .map((fall) => heatingSpan(coarse, smooth, fall, noise));
  const chosen = chooseFall(coarse, smooth, falls, low, settings);
  if (chosen === null) {
    const rises = legs.some((leg) => leg.change > 0.3 * range);
    if (settings.heating !== null && heatings.length > 0) {
      const segments = { ...empty.segments, heatings };
      return withBaseline({ ...empty, segments, pattern: 'heating-absent' }, settings);
    }
    const broken = rises ? brokenFall(coarse, smooth, noise) : null;
    const pattern = broken ? 'cut' : rises ? 'rises-only' : 'none';
    return withBaseline({ ...empty, pattern, broken }, settings);
  }
  const dips = dipsBefore(coarse, smooth, chosen, range, noise);
  const found = { coarse, smooth, falls, chosen, heatings, dips, low, range, noise, sign };
  return placeMarks(trace, found, empty, settings, searchPoints);
}

/** What falls at the end of a rise, where it is more than noise; null where nothing does. */
function brokenFall(coarse: Series, smooth: Float64Array, noise: number): BrokenFall | null {
  const end = smooth.length - 1;
  let top = 0;
  for (let i = 1; i <= end; i++) if (at(smooth, i) > at(smooth, top)) top = i;
  const fallen = at(smooth, top) - at(smooth, end);
  if (end - top < 3 || fallen <= leastOverNoise * noise) return null;
  return {
    from: at(coarse.time, top),
    to: at(coarse.time, end),
    top: at(smooth, top),
    last: at(smooth, end),
  };
}

/**
 * Whether the signal only wanders: many moves, most of them much smaller than the range. The moves of a trial,
 * however many heatings it has, go nearly from one end of the range to the other.
 */
function wandersAbout(legs: readonly Leg[], range: number): boolean {
  return legs.length >= 6 && median(legs.map((leg) => Math.abs(leg.change))) < 0.5 * range;
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
    broken: null,
    dips: [],
    rough: null,
    noise,
    resolution: series.width,
    tail: 0,
    fitFrom: null,
    endFraction: null,
    heatingUsed: null,
    byHand: { baseline: settings.baseline !== null, cooling: settings.cooling !== null },
  };
}

function withBaseline(result: Segmentation, settings: SegmentSettings): Segmentation {
  const { baseline, cooling } = settings;
  return { ...result, segments: { ...result.segments, baseline, cooling } };
}
