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

/** Shapes that the signal may have before the heat is off. */
type Approach = 'straight' | 'exponential';

/** A break to try. */
interface Break {
  /** When the heat goes off, s. */
  readonly time: number;
  /** Decay time of the hot stream, s. */
  readonly tail: number;
  readonly approach: Approach;
  /** How long the body is held at its level before the break, after a straight approach, s. */
  readonly held: number;
}

/** A break with the best temperature and slope for it. */
interface Candidate extends Break {
  readonly temperature: number;
  /** Sum of squared residuals, K². */
  readonly cost: number;
  /** How many points that sum is over. */
  readonly points: number;
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
  const search = (ratio: number) => {
    // The slope is half that of free cooling up to about two decay times of the tail after the heat is off.
    const earliest = Math.max(at(series.time, 0), start - 2 * halfWindow - 2.5 * ratio * tau);
    return bestBreak(series, decay, ratio, earliest, latest, before);
  };
  const clean = search(0);
  let best: Candidate | null = clean;
  let bestGain = tailGain;
  for (const ratio of tailRatios) {
    const tailed = search(ratio);
    if (tailed === null) continue;
    if (clean === null) return tailed;
    // Two breaks are compared by what they leave of the same points. Further back, a clean break pays for a
    // heating that bends; so a tail must also leave less of a point than a clean break of its own points.
    const lo = firstAtOrAfter(series.time, Math.min(clean.time, tailed.time) - before);
    const withTail = fitBreak(series, lo, decay, tailed);
    const without = fitBreak(series, lo, decay, clean);
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
  decay: RoughDecay,
  ratio: number,
  earliest: number,
  latest: number,
  before: number,
): Candidate | null {
  let best: Candidate | null = null;
  const span = latest - earliest;
  const coarse = 32;
  // All candidates must explain the same points, so the stretch before the earliest break belongs to all.
  const lo = firstAtOrAfter(series.time, earliest - before);
  const tail = ratio * decay.timeConstant;
  for (const { approach, held } of tail > 0 ? approaches.slice(0, 2) : approaches) {
    for (let i = 0; i <= coarse; i++) {
      const trial = { time: earliest + (span * i) / coarse, tail, approach, held: held * before };
      best = cheaper(best, fitBreak(series, lo, decay, trial));
    }
  }
  const found = best;
  if (found === null) return null;
  for (let i = -8; i <= 8; i++) {
    for (const factor of tail > 0 ? [0.85, 1, 1.18] : [1]) {
      const time = found.time + (span / coarse) * (i / 8);
      best = cheaper(best, fitBreak(series, lo, decay, { ...found, time, tail: found.tail * factor }));
    }
  }
  return best;
}

function cheaper(a: Candidate | null, b: Candidate | null): Candidate | null {
  if (a === null || b === null) return a ?? b;
  return b.cost < a.cost ? b : a;
}

/**
 * Least squares for the temperature at the break and the slope before it. Both enter linearly: before the
 * break as level and (straight or bent) slope, behind it as free cooling and as what the dying stream adds.
 */
function fitBreak(
  series: Series,
  lo: number,
  decay: RoughDecay,
  { time, tail, approach, held }: Break,
): Candidate | null {
  const tau = decay.timeConstant;
  const hi = series.length;
  let pp = 0;
  let pm = 0;
  let mm = 0;
  let py = 0;
  let my = 0;
  let yy = 0;
  let left = 0;
  for (let i = lo; i < hi; i++) {
    const u = at(series.time, i) - time;
    const y = at(series.value, i) - decay.ambient;
    let p = 1;
    let m = 0;
    if (u < 0) {
      left++;
      m = approach === 'straight' ? Math.min(0, u + held) : -tau * Math.expm1(-u / tau);
      if (approach === 'exponential' && m < -3 * tau) m = -3 * tau;
    } else {
      const free = Math.exp(-u / tau);
      const added = tail > 0 ? (tail / (tau - tail)) * (free - Math.exp(-u / tail)) : 0;
      // The stream's excess at the break is E = B + slope · tau.
      p = free + added;
      m = tau * added;
    }
    pp += p * p;
    pm += p * m;
    mm += m * m;
    py += p * y;
    my += m * y;
    yy += y * y;
  }
  if (left < 2 || hi - lo - left < 3) return null;
  const determinant = pp * mm - pm * pm;
  if (!(determinant > 1e-12 * pp * mm)) return null;
  const level = (py * mm - pm * my) / determinant;
  const slope = (pp * my - pm * py) / determinant;
  if (tail > 0 && level + slope * tau <= 0) return null;
  const cost = yy - level * py - slope * my;
  return {
    time,
    tail,
    approach,
    held,
    temperature: decay.ambient + level,
    cost: Math.max(0, cost),
    points: hi - lo,
  };
}
