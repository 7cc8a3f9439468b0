import type { Blocks } from './types.ts';

/**
 * Merges neighbouring blocks on a grid that is coarser by a whole factor. Counts, means, squares and extremes are
 * those of the readings themselves, as if they had been summed up on the coarser grid from the start.
 *
 * @param blocks of a recording
 * @param factor cells that become one, a whole number > 0
 * @throws RangeError for another factor
 */
export function coarsenBlocks(blocks: Blocks, factor: number): Blocks {
  if (!Number.isInteger(factor) || factor < 1) {
    throw new RangeError(`Blocks can be merged by whole factors from 1 up, not by ${factor}.`);
  }
  if (factor === 1) return blocks;
  const starts = startsOf(blocks, factor);
  const coarse = emptyBlocks(starts.length, blocks.width * factor);
  for (const [k, start] of starts.entries()) {
    merge(blocks, start, starts[k + 1] ?? blocks.length, coarse, k);
    coarse.cell[k] = Math.floor(at(blocks.cell, start) / factor);
  }
  return coarse;
}

/** First block of each coarser cell. */
function startsOf({ cell, length }: Blocks, factor: number): number[] {
  const starts: number[] = [];
  let last = Number.NaN;
  for (let i = 0; i < length; i++) {
    const own = Math.floor(at(cell, i) / factor);
    if (own !== last) starts.push(i);
    last = own;
  }
  return starts;
}

/** Pools a run of blocks; sums are taken about the first, so that nothing is lost to cancellation. */
function merge(from: Blocks, start: number, end: number, to: Blocks, k: number): void {
  const origin = at(from.mean, start);
  const firstTime = at(from.time, start);
  let n = 0;
  let sum = 0;
  let moment = 0;
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (let i = start; i < end; i++) {
    const c = at(from.count, i);
    n += c;
    sum += c * (at(from.mean, i) - origin);
    moment += c * (at(from.time, i) - firstTime);
    min = Math.min(min, at(from.min, i));
    max = Math.max(max, at(from.max, i));
  }
  const mean = origin + sum / n;
  let squares = 0;
  for (let i = start; i < end; i++) {
    squares += at(from.squares, i) + at(from.count, i) * (at(from.mean, i) - mean) ** 2;
  }
  to.count[k] = n;
  to.mean[k] = mean;
  to.time[k] = firstTime + moment / n;
  to.squares[k] = squares;
  to.min[k] = min;
  to.max[k] = max;
}

function emptyBlocks(length: number, width: number): Blocks {
  const column = () => new Float64Array(length);
  return {
    length,
    width,
    cell: column(),
    time: column(),
    count: column(),
    mean: column(),
    squares: column(),
    min: column(),
    max: column(),
  };
}

function at(values: Float64Array, index: number): number {
  return values[index] ?? Number.NaN;
}
