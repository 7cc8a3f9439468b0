import { type BlockColumns, type Blocks, eachColumn } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import { median, scaledMad } from '../statistics/index.ts';
import { at, converterStep, firstAtOrAfter, runningMedian } from './segment-series.ts';

/** The recording's own blocks of a stretch, without wild readings; temperatures in °C, squares in K². */
export interface CleanBlocks extends Blocks {
  readonly removed: Removed;
}

/** What was left out, and where. */
export interface Removed {
  /** Single readings. */
  readonly readings: number;
  /** Times of the first of them, s, at most 20. */
  readonly times: readonly number[];
}

/** Readings further out of their block than this many standard deviations are left out. */
const limit = 6;
/** The same for whole blocks and single readings: their scale comes from a hundred points only. */
const strayLimit = 8;
/** How many points a local scale is taken from. */
const chunk = 101;
const mostTimes = 20;
/** A reading that is no more converter steps than this from its neighbours is none of the wild ones. */
const stepsApart = 2;
/** How often the rest is looked at again. */
const mostRounds = 4;
/** Neighbours on either side that a value which was called wild is looked at again with. */
const secondLook = 4;
/**
 * A stray must also stand out by this part of how far its neighbours range: a smooth signal, hum or a step at a
 * gap bends less.
 */
const ownShare = 0.6;

/**
 * Takes wild readings out of the blocks of a stretch. In a block of three readings or more, the largest and
 * the smallest are tested against the mean of the others by the usual scatter within blocks nearby; a block
 * keeps the sums that it would have had without them. Then blocks that stand out of their neighbours are left
 * out: by more than eight times the local scaled median absolute deviation of the departures of a point from the
 * median of three means of opposite neighbours (after Hampel, 1974; opposite neighbours cancel any slope).
 *
 * @param blocks the recording's own
 * @param span stretch to take, s
 * @param converter step of the converter, K, where it is known; 0 looks for it in the blocks
 */
export function cleanBlocks(blocks: Blocks, span: Span, converter = 0): CleanBlocks {
  const first = firstAtOrAfter(blocks.time, span.from - 1e-9 * Math.abs(span.from));
  const end = Math.max(first, firstAtOrAfter(blocks.time, span.to + 1e-9 * Math.abs(span.to)));
  const work = eachColumn(blocks, (column) => column.slice(first, end));
  const times: number[] = [];
  const step = converter > 0 ? converter : converterStep(work.mean.slice(0, 4096).sort());
  let readings = dropExtremes(work, step, times);
  const keep = standingIn(work.mean, step);
  let length = 0;
  keep.forEach((stays, i) => {
    if (stays) {
      length++;
      return;
    }
    readings += at(work.count, i);
    times.push(at(work.time, i));
  });
  return {
    length,
    width: blocks.width,
    ...eachColumn(work, (column) => kept(column, keep, length)),
    removed: { readings, times: times.sort((a, b) => a - b).slice(0, mostTimes) },
  };
}

/** The values that stay; the same array where all do. */
function kept(values: Float64Array, keep: Uint8Array, length: number): Float64Array {
  if (length === values.length) return values;
  const out = new Float64Array(length);
  let to = 0;
  for (let i = 0; i < values.length; i++) {
    if (keep[i]) out[to++] = at(values, i);
  }
  return out;
}

/** Takes a wild largest or smallest reading out of each block; returns how many were taken out. */
function dropExtremes(work: BlockColumns, step: number, times: number[]): number {
  let dropped = 0;
  for (let from = 0; from < work.mean.length; from += chunk) {
    const to = Math.min(work.mean.length, from + chunk);
    const deviations: number[] = [];
    for (let i = from; i < to; i++) {
      if (at(work.count, i) >= 3) deviations.push(Math.sqrt(at(work.squares, i) / (at(work.count, i) - 1)));
    }
    if (deviations.length === 0) continue;
    const usual = Math.max(median(deviations), step / 2, 1e-12);
    for (let i = from; i < to; i++) {
      // The further one first: it draws the mean of the others along.
      const up = at(work.max, i) - at(work.mean, i);
      const down = at(work.mean, i) - at(work.min, i);
      // The mean of the others lies at most half as far again from an extreme, for three readings or more.
      if (1.5 * Math.max(up, down) <= limit * usual) continue;
      for (const extreme of up >= down ? [work.max, work.min] : [work.min, work.max]) {
        const n = at(work.count, i);
        const x = at(extreme, i);
        const others = (n * at(work.mean, i) - x) / (n - 1);
        if (n < 3 || Math.abs(x - others) <= Math.max(limit * usual, stepsApart * step)) continue;
        work.squares[i] = Math.max(0, at(work.squares, i) - ((x - at(work.mean, i)) ** 2 * n) / (n - 1));
        work.mean[i] = others;
        work.count[i] = n - 1;
        // The next extreme is not known; the mean of what is left is a bound that is surely inside.
        extreme[i] = others;
        dropped++;
        times.push(at(work.time, i));
      }
    }
  }
  return dropped;
}

/** Which values do not stand out of their neighbours, looked at again without those that do: they may hide others. */
function standingIn(values: Float64Array, step: number): Uint8Array {
  const keep = new Uint8Array(values.length).fill(1);
  let left = values;
  let places = Uint32Array.from({ length: values.length }, (_, i) => i);
  for (let round = 0; round < mostRounds; round++) {
    const stays = standingInOnce(left, step);
    if (!stays.includes(0)) break;
    stays.forEach((stay, i) => {
      if (!stay) keep[at(places, i)] = 0;
    });
    left = left.filter((_, i) => stays[i] === 1);
    places = places.filter((_, i) => stays[i] === 1);
  }
  return keep;
}

function standingInOnce(values: Float64Array, step: number): Uint8Array {
  const raw = departuresFromNeighbours(values);
  // The curvature of a decay is much the same over a few points; what is left of it is not a stray.
  const usual = runningMedian(raw, 3);
  const departures = raw.map((d, i) => d - at(usual, i));
  const keep = new Uint8Array(values.length).fill(1);
  const limits = new Map<number, number>();
  for (let from = 0; from < values.length; from += chunk) {
    const to = Math.min(values.length, from + chunk);
    // The last chunk may be short: its scale is taken from as many points further back.
    // Departures less their running median are often zero; those before keep their spread.
    const local = raw.subarray(Math.max(0, to - chunk), to);
    const range = Math.abs(at(values, from) - at(values, to - 1));
    const scale = Math.max(scaledMad(local), step / 2, 1e-5 * range, 1e-12);
    for (let i = from; i < to; i++) {
      const departure = Math.abs(at(departures, i));
      const stays =
        departure <= Math.max(strayLimit * scale, stepsApart * step) ||
        departure <= ownShare * neighbourRange(values, i);
      if (stays) continue;
      keep[i] = 0;
      limits.set(i, Math.max(strayLimit * scale, stepsApart * step));
    }
  }
  return takenBack(values, keep, limits);
}

/**
 * Keeps what only stood out because its neighbours were wild: each value that was called wild is held against
 * the straight line through the kept ones about it.
 */
function takenBack(values: Float64Array, keep: Uint8Array, limits: ReadonlyMap<number, number>): Uint8Array {
  const result = keep.slice();
  for (const [i, limit] of limits) {
    const left = nearestKept(keep, i, -1);
    const right = nearestKept(keep, i, 1);
    if (left.length < secondLook || right.length < secondLook) continue;
    const valuesOf = (places: readonly number[]) => Float64Array.from(places, (k) => at(values, k));
    const before = median(valuesOf(left));
    const after = median(valuesOf(right));
    const from = median(new Float64Array(left));
    const to = median(new Float64Array(right));
    const expected = before + ((after - before) * (i - from)) / (to - from);
    if (Math.abs(at(values, i) - expected) <= Math.max(limit, 0.5 * Math.abs(after - before))) result[i] = 1;
  }
  return result;
}

/** Places of the nearest kept values to one side, within four times as many places. */
function nearestKept(keep: Uint8Array, i: number, direction: 1 | -1): number[] {
  const places: number[] = [];
  for (let k = 1; k <= 4 * secondLook && places.length < secondLook; k++) {
    if (keep[i + direction * k] === 1) places.push(i + direction * k);
  }
  return places;
}

/** Range of the six neighbours of a point without the largest and the smallest of them. */
function neighbourRange(values: Float64Array, i: number): number {
  const beside = [...values.subarray(Math.max(0, i - 3), i), ...values.subarray(i + 1, i + 4)];
  beside.sort((a, b) => a - b);
  return at(beside, beside.length - 2) - at(beside, 1);
}

/**
 * Departure of each value from the median of the means of its neighbours one, two and three places to either
 * side. Zero within three places of an end, and for a straight line.
 */
export function departuresFromNeighbours(values: Float64Array): Float64Array {
  const departures = new Float64Array(values.length);
  const pair = (i: number, k: number) => (at(values, i - k) + at(values, i + k)) / 2;
  for (let i = 3; i < values.length - 3; i++) {
    const a = pair(i, 1);
    const b = pair(i, 2);
    const c = pair(i, 3);
    const middle = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    departures[i] = at(values, i) - middle;
  }
  return departures;
}

/** Which block means to keep by the same rule, for blocks that were pooled from many readings. */
export function withoutStrays(values: Float64Array, step: number): Uint8Array {
  return standingIn(values, step);
}
