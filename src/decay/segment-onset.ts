import type { Span } from '../remark/index.ts';
import { at, firstAtOrAfter, type Series } from './segment-series.ts';

/** A rise as its onset needs it. */
export interface Rise {
  /** First index that may belong to it. */
  readonly from: number;
  /** An index at which it is past a third of its height. */
  readonly to: number;
  /** Level that it starts from, °C. */
  readonly bottom: number;
  /** From the bottom to its top, K. */
  readonly height: number;
}

/**
 * When a rise began, s: from its last passage below a tenth of its height, back to where it has hardly begun,
 * and there the break of a constant and a rise by least squares. The rise is straight (hot stream at once) or
 * square (a stream that warms up slowly), whichever leaves less.
 *
 * @param series points
 * @param smooth running median of their values
 * @param rise where to look
 * @param noise standard deviation of a point, K
 */
export function riseOnset(series: Series, smooth: Float64Array, rise: Rise, noise: number): number {
  const { from, to, bottom, height } = rise;
  let tenth = to;
  while (tenth > from && at(smooth, tenth) > bottom + 0.1 * height) tenth--;
  const trifle = bottom + Math.min(0.1 * height, Math.max(0.03 * height, 5 * noise));
  let start = tenth;
  while (start > from && at(smooth, start) > trifle) start--;
  if (start <= from) return at(series.time, from);
  return breakOfHinge(series, from, start, tenth, height);
}

/** Where a constant turns into a rise, among the points from a stretch before `start` to some way up. */
function breakOfHinge(series: Series, from: number, start: number, tenth: number, height: number): number {
  const reach = Math.max(10, 2 * (tenth - start), Math.round((tenth - from) / 3));
  const lo = Math.max(from, start - reach);
  // Some way up the rise gives the line its direction even where the rise is steep.
  let hi = tenth;
  const bottom = at(series.value, lo);
  while (hi < series.length - 1 && hi < tenth + 3 && at(series.value, hi) < bottom + 0.3 * height) hi++;
  let best = at(series.time, start);
  let least = Number.POSITIVE_INFINITY;
  const stride = Math.max(1, Math.floor((hi - lo) / 200));
  for (const power of [1, 2]) {
    for (let h = lo; h < hi; h += stride) {
      const cost = hingeCost(series, lo, hi + 1, at(series.time, h), power);
      if (cost < least) {
        least = cost;
        best = at(series.time, h);
      }
    }
  }
  return best;
}

function hingeCost(series: Series, lo: number, hi: number, hinge: number, power: number): number {
  const n = hi - lo;
  let r1 = 0;
  let r2 = 0;
  let y1 = 0;
  let y2 = 0;
  let ry = 0;
  const shift = at(series.value, lo);
  for (let i = lo; i < hi; i++) {
    const r = Math.max(0, at(series.time, i) - hinge) ** power;
    const y = at(series.value, i) - shift;
    r1 += r;
    r2 += r * r;
    y1 += y;
    y2 += y * y;
    ry += r * y;
  }
  const sxx = r2 - (r1 * r1) / n;
  const sxy = ry - (r1 * y1) / n;
  const syy = y2 - (y1 * y1) / n;
  return sxx > 0 ? syy - (sxy * sxy) / sxx : Number.POSITIVE_INFINITY;
}

/**
 * The quiet part of what lies before a rise. A guard is cut off its end, then whatever still climbs at its end
 * or still falls at its beginning (a sensor warmed by hand, the end of a cooling before), and of several quiet
 * parts the longest is taken.
 *
 * @param series points
 * @param from s
 * @param onset when the rise began, s
 * @param ceiling highest level that can be ambient, °C
 * @returns null where fewer than four points, or less than two seconds, are left
 */
export function quietStretch(series: Series, from: number, onset: number, ceiling: number): Span | null {
  const guard = Math.max(3 * series.width, 0.05 * (onset - from));
  const lo = firstAtOrAfter(series.time, from);
  const hi = firstAtOrAfter(series.time, onset - guard);
  if (hi - lo < 4) return null;
  const values = series.value.subarray(lo, hi);
  const sorted = Float64Array.from(values).sort();
  const quarter = at(sorted, Math.floor(sorted.length / 4));
  const low = at(sorted, Math.floor(sorted.length / 20));
  // For a normal scatter the fifth and the 25th percentile are 0.97 standard deviations apart.
  const scatter = Math.max((quarter - low) / 0.97, converterStep(sorted), 0.02);
  const level = quarter + 0.674 * scatter;
  const runs = quietRuns(values, level + 4 * scatter, Math.max(1, Math.round(0.25 / series.width)));
  let best: Span | null = null;
  for (const run of runs) {
    const trimmed = trimSlopes(series, lo + run.from, lo + run.to);
    const fromTime = at(series.time, trimmed.from) - series.width / 2;
    const toTime = at(series.time, trimmed.to - 1) + series.width / 2;
    const longer = best === null || toTime - fromTime > best.to - best.from;
    if (trimmed.to - trimmed.from >= 4 && toTime - fromTime >= 2 && longer) {
      best = { from: Math.max(0, fromTime), to: toTime };
    }
  }
  if (best === null) return null;
  const mean = meanBetween(
    series,
    firstAtOrAfter(series.time, best.from),
    firstAtOrAfter(series.time, best.to),
  );
  return mean < ceiling ? best : null;
}

/** Step of a converter where many readings share few values, 0 otherwise; needs ordered values. */
function converterStep(sorted: Float64Array): number {
  let distinct = 1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sorted.length; i++) {
    const step = at(sorted, i) - at(sorted, i - 1);
    if (step <= 0) continue;
    distinct++;
    if (step < least) least = step;
  }
  if (distinct === 1 || distinct * 4 > sorted.length) return 0;
  return least;
}

interface Run {
  from: number;
  to: number;
}

/** Runs whose means over a few points stay below a limit. */
function quietRuns(values: Float64Array, limit: number, halfWidth: number): Run[] {
  const runs: Run[] = [];
  let open: Run | null = null;
  for (let i = 0; i < values.length; i++) {
    const lo = Math.max(0, i - halfWidth);
    const hi = Math.min(values.length, i + halfWidth + 1);
    let sum = 0;
    for (let k = lo; k < hi; k++) sum += at(values, k);
    if (sum / (hi - lo) > limit) {
      open = null;
      continue;
    }
    if (open === null) {
      open = { from: i, to: i };
      runs.push(open);
    }
    open.to = i + 1;
  }
  return runs;
}

/** Cuts 7 % at a time off an end whose tenth stands clearly above the far 70 % (2.5 standard deviations of it). */
function trimSlopes(series: Series, from: number, to: number): Run {
  const run = { from, to };
  for (let round = 0; round < 40; round++) {
    const n = run.to - run.from;
    if (n < 12) break;
    const tenth = Math.max(2, Math.round(0.1 * n));
    const cut = Math.max(1, Math.round(0.07 * n));
    const bulk = Math.round(0.7 * n);
    const spreadOf = (a: number, b: number) => standsAbove(series, a, b, tenth);
    const end = spreadOf(run.from, run.from + bulk);
    const start = spreadOf(run.to - bulk, run.to);
    if (meanBetween(series, run.to - tenth, run.to) > end) run.to -= cut;
    else if (meanBetween(series, run.from, run.from + tenth) > start) run.from += cut;
    else break;
  }
  return run;
}

/** Mean of a stretch and 2.5 standard deviations of the means of `group` points in it. */
function standsAbove(series: Series, from: number, to: number, group: number): number {
  const mean = meanBetween(series, from, to);
  let squares = 0;
  let groups = 0;
  for (let i = from; i + group <= to; i += group) {
    squares += (meanBetween(series, i, i + group) - mean) ** 2;
    groups++;
  }
  return mean + 2.5 * Math.sqrt(squares / Math.max(1, groups - 1)) + 1e-9;
}

function meanBetween(series: Series, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += at(series.value, i);
  return sum / (to - from);
}
