import type { BlockColumns } from './types.ts';

/** The same change made to each column of blocks: a stretch of it, or a choice of its rows. */
export function eachColumn(
  { cell, time, count, mean, squares, min, max }: BlockColumns,
  change: (column: Float64Array) => Float64Array,
): BlockColumns {
  return {
    cell: change(cell),
    time: change(time),
    count: change(count),
    mean: change(mean),
    squares: change(squares),
    min: change(min),
    max: change(max),
  };
}
