import type { Blocks } from '../recording/index.ts';
import { scaledMad } from '../statistics/index.ts';
import type { Clipping } from './raw-noise-types.ts';
import { at } from './segment-series.ts';

/** Fewer readings in a row at an extreme are chance. */
const fewest = 5;
/**
 * Readings that differ by less are one code of the converter, K: degrees found from volts differ by up to 1e-6 K from
 * one to the next, and no converter's step is as small as this.
 */
const same = 1e-5;

/** Blocks that show how readings scatter about their neighbours: more would only take longer. */
const mostTriples = 4096;
/** Rounding alone makes stairs that scatter by 0.6 steps at most. */
const overRounding = 1;

/**
 * Stretches where the readings sit exactly at the largest or smallest value of the whole recording, while what
 * comes before goes towards that end and what comes after comes back from it: the signal went on out of range.
 *
 * @param deviation noise of a reading, K
 * @param step converter step, K; 0 for none
 */
export function findClipping(blocks: Blocks, deviation: number, step: number): Clipping[] {
  let top = Number.NEGATIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  for (let i = 0; i < blocks.length; i++) {
    top = Math.max(top, at(blocks.max, i));
    bottom = Math.min(bottom, at(blocks.min, i));
  }
  // Where a step is much coarser than the noise, a still signal repeats one value as well. But a baseline that is
  // still because it lies out of range says nothing of the noise: then the rest does.
  const still = step > 0 && deviation < 0.3 * step;
  const scatter = still ? scatterBetween(blocks, bottom, top) : deviation;
  if (still && !(scatter > overRounding * step)) return [];
  return [...runsAt(blocks, 'top', top, scatter + step), ...runsAt(blocks, 'bottom', bottom, scatter + step)];
}

/** Standard deviation of a reading about its neighbours where none of them is at an end, K; NaN where none is. */
function scatterBetween(blocks: Blocks, bottom: number, top: number): number {
  const inside = (i: number) => at(blocks.min, i) > bottom + same && at(blocks.max, i) < top - same;
  const stride = Math.max(1, Math.ceil(blocks.length / mostTriples));
  const bends: number[] = [];
  for (let i = 1; i + 1 < blocks.length; i += stride) {
    if (!inside(i - 1) || !inside(i) || !inside(i + 1)) continue;
    const bend = at(blocks.mean, i - 1) - 2 * at(blocks.mean, i) + at(blocks.mean, i + 1);
    bends.push(bend * Math.sqrt(at(blocks.count, i)));
  }
  // The second difference of white noise has six times its variance.
  return scaledMad(bends) / Math.sqrt(6);
}

function runsAt(blocks: Blocks, end: Clipping['end'], level: number, trifle: number): Clipping[] {
  const found: Clipping[] = [];
  const sits = (i: number) =>
    Math.abs(at(blocks.min, i) - level) < same && Math.abs(at(blocks.max, i) - level) < same;
  for (let i = 0; i < blocks.length; i++) {
    if (!sits(i)) continue;
    const first = i;
    let readings = 0;
    while (i < blocks.length && sits(i)) {
      readings += at(blocks.count, i);
      i++;
    }
    const length = i - first;
    if (readings < fewest) continue;
    // As far as the run is long: what is further away may be another run.
    const before = first > 0 ? furthest(blocks, first - length, first, level) : Number.POSITIVE_INFINITY;
    const after = i < blocks.length ? furthest(blocks, i, i + length, level) : Number.POSITIVE_INFINITY;
    if (before > 3 * trifle && after > 3 * trifle) {
      found.push({ end, level, readings, from: at(blocks.time, first), to: at(blocks.time, i - 1) });
    }
  }
  return found;
}

/** Largest distance of a block's mean from a level, among those from one index up to another, K. */
function furthest({ mean, length }: Blocks, from: number, to: number, level: number): number {
  let most = 0;
  for (let i = Math.max(0, from); i < Math.min(length, to); i++) {
    most = Math.max(most, Math.abs(at(mean, i) - level));
  }
  return most;
}
