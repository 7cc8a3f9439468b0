import type { Blocks } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import { median } from '../statistics/index.ts';

/** A temperature against time on few enough points that searching it is cheap. */
export interface Series {
  readonly length: number;
  /** Width of the cells that were pooled, s. */
  readonly width: number;
  /** Mean time of each point, s from the recording's first sample. */
  readonly time: Float64Array;
  /** Mean of the middle half of the readings in the cell, °C. */
  readonly value: Float64Array;
}

/** The value at an index, not a number outside the array. */
export function at(values: ArrayLike<number>, index: number): number {
  return values[index] ?? Number.NaN;
}

/** Index of the first time that is not before `moment`; the length where all are before it. */
export function firstAtOrAfter(time: Float64Array, moment: number): number {
  let low = 0;
  let high = time.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (at(time, middle) < moment) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Number of cells that make up the fewest whole mains periods, 0 where up to 60 periods are no whole number of
 * cells, or where every reading falls on the same phase of the hum, which no average removes.
 *
 * @param width width of a cell, s
 * @param mains mains frequency, Hz
 * @param samplePeriod spacing of the readings, s
 */
export function cellsPerMainsPeriods(width: number, mains: number, samplePeriod: number): number {
  const phase = mains * samplePeriod;
  if (Math.abs(phase - Math.round(phase)) < 0.01 && phase > 0.5) return 0;
  for (let periods = 1; periods <= 60; periods++) {
    const cells = Math.round(periods / (mains * width));
    if (cells >= 1 && Math.abs(cells * width * mains - periods) < 0.01) return cells;
  }
  return 0;
}

/**
 * Pools a recording into at most about `limit` points. A point is the mean of the middle half of the pooled
 * blocks: single wild readings do not move it, and a coarse converter step is still averaged out.
 *
 * @param blocks the recording
 * @param span stretch to take, s; null for all
 * @param limit most cells, at least 1
 * @param mains mains frequency, Hz: cells span whole periods where that costs no more than a 400th of the span;
 *   0 for cells as short as the limit allows
 */
export function reduceBlocks(blocks: Blocks, span: Span | null, limit: number, mains: number): Series {
  const first = span ? firstAtOrAfter(blocks.time, span.from) : 0;
  const last = (span ? firstAtOrAfter(blocks.time, span.to) : blocks.length) - 1;
  const origin = at(blocks.cell, first);
  const cells = last >= first ? at(blocks.cell, last) - origin + 1 : 0;
  let pooled = Math.max(1, Math.ceil(cells / limit));
  const period = mains > 0 ? cellsPerMainsPeriods(blocks.width, mains, blocks.width) : 0;
  if (period > 0 && period * 400 <= cells) pooled = period * Math.ceil(pooled / period);
  const size = Math.max(0, Math.min(last - first + 1, Math.ceil(cells / pooled)));
  const time = new Float64Array(size);
  const value = new Float64Array(size);
  const group = new Float64Array(Math.min(pooled, Math.max(0, last - first + 1)));
  let length = 0;
  let from = first;
  while (from <= last) {
    // Cells are whole numbers: the group ends before the first cell of the next one.
    const next = origin + (Math.floor((at(blocks.cell, from) - origin) / pooled) + 1) * pooled;
    const start = at(blocks.time, from);
    let to = from;
    let weight = 0;
    let moment = 0;
    while (to <= last && at(blocks.cell, to) < next) {
      const count = at(blocks.count, to);
      group[to - from] = at(blocks.mean, to);
      weight += count;
      moment += count * (at(blocks.time, to) - start);
      to++;
    }
    time[length] = start + moment / weight;
    value[length] = midmean(group.subarray(0, to - from));
    length++;
    from = to;
  }
  return {
    length,
    width: pooled * blocks.width,
    time: time.subarray(0, length),
    value: value.subarray(0, length),
  };
}

/** Mean of the middle half (Tukey's midmean, without weights at the ends); sorts its argument. */
function midmean(values: Float64Array): number {
  if (values.length === 1) return at(values, 0);
  if (values.length > 2) values.sort();
  const cut = Math.floor(values.length / 4 + 0.25);
  let sum = 0;
  for (let i = cut; i < values.length - cut; i++) sum += at(values, i);
  return sum / (values.length - 2 * cut);
}

/**
 * Part of a series with neighbouring points averaged, so that at most about so many are left.
 *
 * @param from first index
 * @param to index behind the last
 * @param most points, at least 1
 */
export function thinned(series: Series, from: number, to: number, most: number): Series {
  const group = Math.max(1, Math.ceil((to - from) / most));
  const length = Math.ceil((to - from) / group);
  const mean = (values: Float64Array, k: number) => {
    const start = from + k * group;
    const end = Math.min(to, start + group);
    let sum = 0;
    for (let i = start; i < end; i++) sum += at(values, i);
    return sum / (end - start);
  };
  return {
    length,
    width: series.width * group,
    time: Float64Array.from({ length }, (_, k) => mean(series.time, k)),
    value: Float64Array.from({ length }, (_, k) => mean(series.value, k)),
  };
}

/** The same points, with the sign of the values turned for −1. */
export function oriented(series: Series, sign: 1 | -1): Series {
  return sign === 1 ? series : { ...series, value: series.value.map((x) => -x) };
}

/**
 * Running median over an odd number of points; at the ends the window shrinks and stays centred.
 *
 * @param values in order
 * @param halfWidth points on either side, at least 0
 */
export function runningMedian(values: Float64Array, halfWidth: number): Float64Array {
  const result = new Float64Array(values.length);
  const window = new Float64Array(2 * halfWidth + 1);
  let filled = 0;
  // The window stays sorted as it moves: what enters is put in its place, what leaves is closed up.
  const enter = (value: number) => {
    let place = filled++;
    while (place > 0 && at(window, place - 1) > value) {
      window[place] = at(window, place - 1);
      place--;
    }
    window[place] = value;
  };
  const leave = (value: number) => {
    let place = 0;
    while (place < filled - 1 && at(window, place) !== value) place++;
    for (filled--; place < filled; place++) window[place] = at(window, place + 1);
  };
  let from = 0;
  let to = 0;
  for (let i = 0; i < values.length; i++) {
    const half = Math.min(halfWidth, i, values.length - 1 - i);
    while (from < i - half) leave(at(values, from++));
    while (to <= i + half) enter(at(values, to++));
    result[i] = at(window, half);
  }
  return result;
}

/**
 * Replaces single points that stand out of their six neighbours by their median (Hampel, 1974: more than six
 * times 1.4826 times the median absolute deviation). The fast noise is the least deviation that counts.
 */
export function withoutSpikes(series: Series): Series {
  const noise = Math.max(fastNoise(series.value), converterStep(series.value.slice().sort()));
  const value = series.value.slice();
  const middles = runningMedian(series.value, 3);
  for (let i = 0; i < series.length; i++) {
    const half = Math.min(3, i, series.length - 1 - i);
    if (half === 0) continue;
    const middle = at(middles, i);
    const departure = Math.abs(at(series.value, i) - middle);
    if (departure <= 6 * noise) continue;
    const window = series.value.subarray(i - half, i + half + 1);
    const deviation = 1.4826 * median(window.map((x) => Math.abs(x - middle)));
    if (departure > 6 * Math.max(deviation, noise)) value[i] = middle;
  }
  return { ...series, value };
}

/** Step of a converter where many readings share few values, 0 otherwise; needs ordered values. */
export function converterStep(sorted: Float64Array): number {
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

/**
 * Standard deviation of the fast noise of a series, from the departures of each point from the mean of its
 * neighbours: a straight line of any slope gives nothing, and neither do a few knees or spikes (median).
 */
export function fastNoise(values: Float64Array): number {
  if (values.length < 3) return 0;
  const departures = new Float64Array(values.length - 2);
  for (let i = 1; i < values.length - 1; i++) {
    departures[i - 1] = Math.abs(at(values, i) - (at(values, i - 1) + at(values, i + 1)) / 2);
  }
  // A point less the mean of two others has 1.5 times its variance; 1.4826 turns a MAD into a deviation.
  return (1.4826 * median(departures)) / Math.sqrt(1.5);
}
