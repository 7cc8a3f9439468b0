import type { Blocks } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import { type Fall, heatingSpan } from './segment-falls.ts';
import { riseOnset } from './segment-onset.ts';
import { quietStretch } from './segment-quiet.ts';
import {
  at,
  firstAtOrAfter,
  oriented,
  reduceBlocks,
  runningMedian,
  type Series,
  withoutSpikes,
} from './segment-series.ts';

/** What is looked at for the quiet stretch. */
export interface BeforeHeating {
  readonly blocks: Blocks;
  readonly sign: 1 | -1;
  readonly coarse: Series;
  readonly smooth: Float64Array;
  readonly falls: readonly Fall[];
  readonly chosen: Fall;
  /** Fast noise of a point of the coarse series, K. */
  readonly noise: number;
  /** Highest level that can be ambient, °C. */
  readonly ceiling: number;
  /** Range of the signal, K. */
  readonly range: number;
  /** Rough time constant, s. */
  readonly timeConstant: number;
  readonly points: number;
  readonly mains: number;
}

/** Onset of a heating and the quiet stretch before it. */
export interface Onset {
  /** s */
  readonly time: number;
  readonly quiet: Span | null;
}

/**
 * The onset of the chosen heating, and a quiet stretch before it. Where another cooling comes before, only
 * what lies seven time constants behind its top can be ambient, and the stretch before an earlier heating is
 * taken instead if this one is shorter than 15 s (common practice, no source) and that one is longer.
 */
export function findOnset(before: BeforeHeating): Onset | null {
  const { falls, chosen } = before;
  if (chosen.bottom === null) return null;
  const nearest = onsetOf(before, chosen);
  let quiet = nearest.quiet;
  for (const fall of falls.slice(0, falls.indexOf(chosen))) {
    if (quiet && quiet.to - quiet.from >= 15) break;
    if (fall.bottom === null) continue;
    const other = onsetOf(before, fall).quiet;
    if (other && (!quiet || other.to - other.from > quiet.to - quiet.from)) quiet = other;
  }
  return { time: nearest.time, quiet };
}

function onsetOf(before: BeforeHeating, fall: Fall): Onset {
  const { coarse, smooth, falls } = before;
  const rough = heatingSpan(coarse, smooth, fall, before.noise).from;
  const previous = falls[falls.indexOf(fall) - 1];
  const from = previous ? at(coarse.time, previous.top) + 7 * before.timeConstant : 0;
  if (from >= rough) return { time: rough, quiet: null };
  const bottom = at(smooth, fall.bottom ?? 0);
  const height = at(smooth, fall.top) - bottom;
  let third = firstAtOrAfter(coarse.time, rough);
  while (third < fall.top && at(smooth, third) < bottom + 0.35 * height) third++;
  const span = { from, to: at(coarse.time, third) + 2 * coarse.width };
  const fine = withoutSpikes(
    oriented(reduceBlocks(before.blocks, span, before.points, before.mains), before.sign),
  );
  const fineSmooth = runningMedian(fine.value, 2);
  const rise = { from: 0, to: fine.length - 1, bottom, height };
  const time = riseOnset(fine, fineSmooth, rise, before.noise);
  return { time, quiet: quietStretch(fine, from, time, before) };
}
