import { type Blocks, eachColumn } from '../recording/index.ts';
import { median } from '../statistics/index.ts';

/** One point of a growing trace: the middle of a short stretch of readings. */
export interface StretchPoint {
  /** s */
  readonly time: number;
  /** °C */
  readonly temperature: number;
}

/**
 * Cuts a growing trace into stretches of equal length, each once, as soon as it is over. What comes out does not depend
 * on how often it is asked. A wild reading does not move a stretch of several blocks.
 */
export class Stretches {
  readonly #width: number;
  #next = 0;

  /** @param width s, > 0 */
  constructor(width: number) {
    this.#width = width;
  }

  /** The stretches that have ended since it was asked last. */
  take(blocks: Blocks): StretchPoint[] {
    const points: StretchPoint[] = [];
    // The last block may still grow.
    const whole = blocks.length - 1;
    let from = firstNotBefore(blocks.time, this.#next * this.#width, Math.max(0, whole));
    while (from < whole) {
      const number = this.#numberAt(blocks, from);
      let to = from + 1;
      while (to < whole && this.#numberAt(blocks, to) === number) to++;
      if (to === whole && this.#numberAt(blocks, whole) === number) break;
      points.push({
        time: (time(blocks, from) + time(blocks, to - 1)) / 2,
        temperature: median(blocks.mean.slice(from, to)),
      });
      this.#next = number + 1;
      from = to;
    }
    return points;
  }

  #numberAt(blocks: Blocks, index: number): number {
    return Math.floor(time(blocks, index) / this.#width);
  }
}

function time(blocks: Blocks, index: number): number {
  return blocks.time[index] ?? Number.NaN;
}

/** Index of the first time that is not before a moment, at most `end`. */
function firstNotBefore(times: Float64Array, moment: number, end: number): number {
  let low = 0;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? Number.NaN) < moment) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The blocks from a moment on; cells and times stay counted from the recording's first sample. */
export function blocksFrom(blocks: Blocks, moment: number): Blocks {
  const first = firstNotBefore(blocks.time, moment, blocks.length);
  if (first === 0) return blocks;
  return {
    length: blocks.length - first,
    width: blocks.width,
    ...eachColumn(blocks, (column) => column.subarray(first, blocks.length)),
  };
}
