import { type Approach, type BreakFit, breakFits, type FittedBreak } from './segment-break.ts';
import type { RoughDecay } from './segment-exponential.ts';
import { at, firstAtOrAfter, type Series, thinned } from './segment-series.ts';

/** The moment the heat went off. */
export interface Knee {
  /** s */
  readonly time: number;
  /** Decay time of the hot air after the heat is off, s; 0 where the step is clean. */
  readonly tail: number;
  /** Temperature of the body at that moment, °C. */
  readonly temperature: number;
}

/** Approaches that are tried; holding times in units of the stretch looked at before the break. */
const approaches: readonly { approach: Approach; held: number }[] = [
  { approach: 'straight', held: 0 },
  { approach: 'exponential', held: 0 },
  { approach: 'straight', held: 0.25 },
  { approach: 'straight', held: 0.5 },
  { approach: 'straight', held: 0.8 },
  { approach: 'straight', held: 1.2 },
];

/** Tails that are tried, in time constants of the cooling. */
const tailRatios = [0.03, 0.06, 0.1, 0.15, 0.22, 0.32, 0.45, 0.65, 0.95];

/** More points than this do not place the break better. */
const mostPoints = 400;

/** A tail is believed only if it lowers the sum of squares by this factor: noise alone gains less. */
const tailGain = 1.25;

/**
 * Finds when the heat went off: a walk back from the middle of the cooling to where the slope is no longer
 * that of a free cooling, then the best of all broken curves around that place. Before the break the curve is
 * straight or approaches a hot stream; behind it, it is the solution of the lumped energy balance for a stream
 * whose excess over ambient vanishes at once or dies away exponentially:
 * x = a + B e^(−u/τ) + E k/(τ−k) (e^(−u/τ) − e^(−u/k)), with E from the slope before the break
 * (no jump of the slope where the excess only begins to die).
 *
 * @param points fine series around the cooling
 * @param first first index that may belong to the heating
 * @param middle index on the cooling, about half way down
 * @param decay rough exponential of the lower part of the cooling
 * @returns null where the walk reaches `first`: the recording starts in the cooling
 */
export function locateHeatOff(points: Series, first: number, middle: number, decay: RoughDecay): Knee | null {
  const tau = decay.timeConstant;
  const halfWindow = Math.max(0.06 * tau, 2 * points.width);
  const walked = walkBack(points, first, middle, decay, halfWindow);
  if (walked <= first + 1) return null;
  const start = at(points.time, walked);
  const before = Math.max(0.15 * tau, 6 * points.width);
  const latest = start + 2 * halfWindow;
  const longestTail = at(tailRatios, tailRatios.length - 1) * tau;
  const lowest = firstAtOrAfter(points.time, start - 2 * halfWindow - 2.5 * longestTail - before);
  const highest = firstAtOrAfter(points.time, start + Math.max(0.45 * tau, 12 * points.width));
  const series = thinned(points, Math.max(first, lowest), highest, mostPoints);
  const fitBreak = breakFits(series, decay);
  const search = (ratio: number) => {
    // The slope is half that of free cooling up to about two decay times of the tail after the heat is off.
    const earliest = Math.max(at(series.time, 0), start - 2 * halfWindow - 2.5 * ratio * tau);
    return bestBreak(series, fitBreak, ratio * tau, earliest, latest, before);
  };
  const clean = search(0);
  let best: FittedBreak | null = clean;
  let bestGain = tailGain;
  for (const ratio of tailRatios) {
    const tailed = search(ratio);
    if (tailed === null) continue;
    if (clean === null) return tailed;
    // Two breaks are compared by what they leave of the same points. Further back, a clean break pays for a
    // heating that bends; so a tail must also leave less of a point than a clean break of its own points.
    const lo = firstAtOrAfter(series.time, Math.min(clean.time, tailed.time) - before);
    const withTail = fitBreak(lo, tailed);
    const without = fitBreak(lo, clean);
    if (withTail === null || without === null) continue;
    const gain = Math.min(
      without.cost / withTail.cost,
      clean.cost / clean.points / (withTail.cost / (series.length - lo)),
    );
    if (gain > bestGain) {
      bestGain = gain;
      best = tailed;
    }
  }
  return best;
}

/** Index at which, going back in time, the signal stops falling at least half as fast as a free cooling. */
function walkBack(
  series: Series,
  from: number,
  middle: number,
  decay: RoughDecay,
  halfWindow: number,
): number {
  let index = middle;
  while (index > from) {
    const excess = at(series.value, index) - decay.ambient;
    const slope = localSlope(series, from, index, halfWindow);
    if (Number.isFinite(slope) && -slope < (0.5 * excess) / decay.timeConstant) break;
    index--;
  }
  return index;
}

/** Least-squares slope within a window about an index, K/s; not a number where it holds fewer than 3 points. */
function localSlope(series: Series, from: number, index: number, halfWindow: number): number {
  const centre = at(series.time, index);
  let n = 0;
  let t1 = 0;
  let t2 = 0;
  let y1 = 0;
  let ty = 0;
  const add = (i: number) => {
    const t = at(series.time, i) - centre;
    const y = at(series.value, i);
    n++;
    t1 += t;
    t2 += t * t;
    y1 += y;
    ty += t * y;
  };
  for (let i = index; i >= from && centre - at(series.time, i) <= halfWindow; i--) add(i);
  for (let i = index + 1; i < series.length && at(series.time, i) - centre <= halfWindow; i++) add(i);
  const spread = n * t2 - t1 * t1;
  return n >= 3 && spread > 0 ? (n * ty - t1 * y1) / spread : Number.NaN;
}

/** The best break for one tail among a grid of moments and both approaches, refined once. */
function bestBreak(
  series: Series,
  fitBreak: BreakFit,
  tail: number,
  earliest: number,
  latest: number,
  before: number,
): FittedBreak | null {
  let best: FittedBreak | null = null;
  const span = latest - earliest;
  const coarse = 32;
  // All candidates must explain the same points, so the stretch before the earliest break belongs to all.
  const lo = firstAtOrAfter(series.time, earliest - before);
  for (const { approach, held } of tail > 0 ? approaches.slice(0, 2) : approaches) {
    for (let i = 0; i <= coarse; i++) {
      const trial = { time: earliest + (span * i) / coarse, tail, approach, held: held * before };
      best = cheaper(best, fitBreak(lo, trial));
    }
  }
  const found = best;
  if (found === null) return null;
  for (let i = -8; i <= 8; i++) {
    for (const factor of tail > 0 ? [0.85, 1, 1.18] : [1]) {
      const time = found.time + (span / coarse) * (i / 8);
      best = cheaper(best, fitBreak(lo, { ...found, time, tail: found.tail * factor }));
    }
  }
  return best;
}

function cheaper(a: FittedBreak | null, b: FittedBreak | null): FittedBreak | null {
  if (a === null || b === null) return a ?? b;
  return b.cost < a.cost ? b : a;
}
