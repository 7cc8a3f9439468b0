import type { Span } from '../remark/index.ts';
import type { ClassroomInput } from './classroom-types.ts';
import { at, firstAtOrAfter } from './segment-series.ts';

/** A reading this many standard deviations above the fitted curve is a wild one that no class would take. */
const wild = 10;

/**
 * The hottest reading of a trial, as a class takes it for the start. Wild readings are passed over: those far
 * above both their neighbours.
 *
 * @returns null where the trial holds no readings
 */
export function hottestReading(input: ClassroomInput): { time: number; temperature: number } | null {
  const { blocks } = input.trace;
  const first = firstAtOrAfter(blocks.time, input.trial.from);
  const end = firstAtOrAfter(blocks.time, input.trial.to);
  let best = -1;
  for (let i = first; i < end; i++) {
    if (best >= 0 && at(blocks.max, i) <= at(blocks.max, best)) continue;
    if (!standsOut(input, i, first, end)) best = i;
  }
  if (best < 0) return null;
  const raw = input.readings?.({
    from: at(blocks.time, best) - blocks.width,
    to: at(blocks.time, best) + blocks.width,
  });
  if (raw && at(blocks.count, best) > 1) {
    for (let i = 0; i < raw.value.length; i++) {
      if (at(raw.value, i) === at(blocks.max, best)) {
        return { time: at(raw.time, i), temperature: at(raw.value, i) };
      }
    }
  }
  return { time: at(blocks.time, best), temperature: at(blocks.max, best) };
}

/** Whether the largest reading of a block is wild against the blocks beside it. */
function standsOut(input: ClassroomInput, index: number, first: number, end: number): boolean {
  const { blocks } = input.trace;
  const left = at(blocks.mean, Math.max(first, index - 1));
  const right = at(blocks.mean, Math.min(end - 1, index + 1));
  const slope = Math.abs(right - left);
  const beside = Math.max(left, right);
  return at(blocks.max, index) - beside > wild * input.readingDeviation + slope;
}

/**
 * When the readings first fall to 36.8 % of the step, on the line between the two readings on either side;
 * between block means where single readings are not at hand.
 *
 * @returns time, s from the recording's first sample; null where that level is not reached
 */
export function firstCrossing(
  input: ClassroomInput,
  start: { readonly time: number; readonly temperature: number },
): number | null {
  const { blocks } = input.trace;
  const level = input.ambient.value + (start.temperature - input.ambient.value) * Math.exp(-1);
  const end = firstAtOrAfter(blocks.time, input.trial.to);
  const single = input.readings !== undefined;
  let i = firstAtOrAfter(blocks.time, start.time) + 1;
  while (i < end && at(single ? blocks.min : blocks.mean, i) > level) i++;
  if (i >= end) return null;
  if (input.readings && at(blocks.count, i) > 1) {
    const around = { from: at(blocks.time, i - 1), to: at(blocks.time, i) + blocks.width };
    const raw = input.readings(around);
    const found = crossingOf(raw.time, raw.value, 1, level);
    if (found !== null) return found;
  }
  return crossingOf(blocks.time, blocks.mean, i, level);
}

/** First time at which values fall to a level, linear between two of them, looking from an index on. */
function crossingOf(
  time: ArrayLike<number>,
  value: ArrayLike<number>,
  from: number,
  level: number,
): number | null {
  for (let i = from; i < value.length; i++) {
    const below = at(value, i);
    const above = at(value, i - 1);
    if (below > level) continue;
    if (!(above > below)) return at(time, i);
    return at(time, i) - ((level - below) / (above - below)) * (at(time, i) - at(time, i - 1));
  }
  return null;
}

/** Stretches of which single readings would make the hottest reading and the crossing exact. */
export function readingsWanted(input: ClassroomInput): Span[] {
  const wanted: Span[] = [];
  const asking = {
    ...input,
    readings: (span: Span) => {
      wanted.push(span);
      return { time: [], value: [] };
    },
  };
  const start = hottestReading(asking);
  if (start !== null) firstCrossing(asking, start);
  return wanted;
}
