import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import { cleanBlocks, type Removed, withoutStrays } from './clean.ts';
import { converterStepOf } from './raw-noise.ts';
import { remembered } from './remembered.ts';
import { at, cellsPerMainsPeriods } from './segment-series.ts';

/** Blocks of equal width, ready to be fitted. Arrays run in parallel; a gap leaves blocks out. */
export interface CutBlocks {
  readonly length: number;
  /** s */
  readonly blockWidth: number;
  /** Place on the grid, from 0 at the start of the stretch. */
  readonly position: Float64Array;
  /** Mean time of the readings of the block, s. */
  readonly time: Float64Array;
  /** Mean of the readings, °C. */
  readonly value: Float64Array;
  /** Readings in the block. */
  readonly count: Float64Array;
  /** Whether a block spans whole mains periods, so that hum averages out. */
  readonly humFree: boolean;
  /** Single readings and whole blocks that were left out because they stand out. */
  readonly removed: Removed;
  /** Cells of the stretch that have no block, or too few readings for one. */
  readonly missing: number;
}

/** Most blocks that a fit is made on. */
const mostBlocks = 1000;

/** A block with less than this share of its readings is left out. */
const leastShare = 0.7;

/** Readings that show the converter step: sorting all of them would take longer than the fit. */
const readingsForStep = 4096;

function spreadReadings(opening: Float64Array): Float64Array {
  const stride = Math.ceil(opening.length / readingsForStep);
  return stride <= 1 ? opening : opening.filter((_, i) => i % stride === 0);
}

/** Step of the converter by readings of the opening, K; 0 where they show none. */
const stepOfOpening = remembered((opening: Float64Array) => converterStepOf(spreadReadings(opening)) ?? 0);

/** Width of blocks, in cells of the recording's own blocks. */
export interface BlockWidth {
  readonly cells: number;
  /** s */
  readonly width: number;
  readonly humFree: boolean;
}

/**
 * How wide the blocks of a window should be: whole mains periods, at most 1000 blocks, at most a tenth of the
 * time constant. Where a tenth of the time constant is shorter than the fewest whole periods, the hum is left
 * in and the result says so.
 *
 * @param trace its own blocks set the grid
 * @param length of the window, s, > 0
 * @param timeConstant rough, s, > 0
 * @param mains mains frequency, Hz
 */
export function chooseBlockWidth(
  trace: Trace,
  length: number,
  timeConstant: number,
  mains: number,
): BlockWidth {
  const width = trace.blocks.width;
  const unit = cellsPerMainsPeriods(width, mains, trace.samplePeriod);
  const most = timeConstant / 10;
  const step = unit > 0 ? unit : 1;
  const wanted = step * Math.max(1, Math.ceil(length / (mostBlocks * step * width)));
  if (wanted * width <= most * 1.0001) return { cells: wanted, width: wanted * width, humFree: unit > 0 };
  const wholePeriods = unit * Math.floor(most / (unit * width));
  if (unit > 0 && wholePeriods > 0) {
    return { cells: wholePeriods, width: wholePeriods * width, humFree: true };
  }
  const cells = Math.max(1, Math.floor(most / width));
  return { cells, width: cells * width, humFree: false };
}

/**
 * Cuts a stretch into equal blocks of a number of the recording's own cells, wild readings taken out. Blocks
 * with less than 0.7 of their readings are left out: their noise and hum would differ.
 *
 * @param trace recording in °C
 * @param span s
 * @param width from `chooseBlockWidth`; baseline and cooling take the same
 */
export function cutBlocks(trace: Trace, span: Span, width: BlockWidth): CutBlocks {
  const step = stepOfOpening(trace.opening);
  const fine = cleanBlocks(trace.blocks, span, step);
  const cellWidth = trace.blocks.width;
  const firstCell = Math.ceil(span.from / cellWidth - 1e-6);
  const lastTime = Math.min(span.to, at(trace.blocks.time, trace.blocks.length - 1));
  // A block counts while its last reading is inside.
  const lastCell = Math.floor((lastTime + trace.samplePeriod) / cellWidth + 1e-6);
  const places = Math.max(0, Math.floor((lastCell - firstCell) / width.cells));
  const expected = (width.cells * cellWidth) / trace.samplePeriod;
  const position: number[] = [];
  const time: number[] = [];
  const value: number[] = [];
  const count: number[] = [];
  let i = 0;
  while (i < fine.length && at(fine.cell, i) < firstCell) i++;
  for (let place = 0; place < places; place++) {
    const end = firstCell + (place + 1) * width.cells;
    const start = i;
    let n = 0;
    let sum = 0;
    let moment = 0;
    for (; i < fine.length && at(fine.cell, i) < end; i++) {
      const c = at(fine.count, i);
      n += c;
      sum += c * (at(fine.mean, i) - at(fine.mean, start));
      moment += c * (at(fine.time, i) - at(fine.time, start));
    }
    if (n < leastShare * expected) continue;
    position.push(place);
    time.push(at(fine.time, start) + moment / n);
    value.push(at(fine.mean, start) + sum / n);
    count.push(n);
  }
  const values = new Float64Array(value);
  const keep = withoutStrays(values, step);
  const kept = (list: readonly number[]) => new Float64Array(list.filter((_, k) => keep[k]));
  const strays = time.filter((_, k) => !keep[k]);
  const strayReadings = count.reduce((total, n, k) => (keep[k] ? total : total + n), 0);
  const cut = kept(position);
  return {
    length: cut.length,
    blockWidth: width.width,
    position: cut,
    time: kept(time),
    value: kept(value),
    count: kept(count),
    humFree: width.humFree,
    removed: {
      readings: fine.removed.readings + strayReadings,
      times: [...fine.removed.times, ...strays].sort((a, b) => a - b).slice(0, 20),
    },
    missing: places - cut.length,
  };
}

/**
 * The blocks of a cooling for the fit: `chooseBlockWidth`, then `cutBlocks`.
 *
 * @param trace recording in °C
 * @param span clean cooling, s
 * @param timeConstant rough, s
 * @param mains mains frequency, Hz
 */
export function cutWindow(trace: Trace, span: Span, timeConstant: number, mains: number): CutBlocks {
  return cutBlocks(trace, span, chooseBlockWidth(trace, span.to - span.from, timeConstant, mains));
}
