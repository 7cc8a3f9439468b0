import { formatSignificant } from '../quantity/index.ts';
import { roundTicks } from './words.ts';

/** A logarithmic axis: what it spans, and where that stands, px. `to` may lie before `from`, for an upward axis. */
export interface LogAxis {
  readonly low: number;
  readonly high: number;
  readonly from: number;
  readonly to: number;
}

/** A mark on an axis; only some are written. */
export interface LogTick {
  readonly value: number;
  readonly text: string | null;
}

/** Smallest and largest number that a logarithmic axis is made for. */
const smallest = 1e-9;
const largest = 1e12;

/** Whether a number has a place on a logarithmic axis. */
export function positive(value: number | null | undefined): value is number {
  return typeof value === 'number' && value >= smallest && value <= largest;
}

/** Place of a value, px; values outside come to the nearer end. */
export function onLog(axis: LogAxis, value: number): number {
  const share = Math.log(value / axis.low) / Math.log(axis.high / axis.low);
  return axis.from + Math.min(Math.max(share, 0), 1) * (axis.to - axis.from);
}

/**
 * Span of positive numbers on a logarithmic axis, with a little room at both ends; null if there is none.
 *
 * @param leastRatio how far apart the ends are at least, > 1
 */
export function logSpan(values: Iterable<number>, leastRatio: number): readonly [number, number] | null {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const value of values) {
    if (!positive(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (high === 0) return null;
  const room = Math.max((high / low) ** 0.06, 1.02);
  const ratio = (high * room * room) / low;
  const more = ratio < leastRatio ? Math.sqrt(leastRatio / ratio) : 1;
  return [low / room / more, high * room * more];
}

/** Digits that are written in each decade, from the densest choice to the sparsest. */
const written: readonly (readonly number[])[] = [
  [1, 2, 3, 4, 5, 6, 7, 8, 9],
  [1, 2, 3, 5, 7],
  [1, 2, 5],
  [1, 3],
  [1],
];

/**
 * Marks of a logarithmic axis: round steps where it spans less than a decade, else 1 to 9 of every decade, of
 * which as many are written as have room.
 *
 * @param room least distance between two written numbers, px
 */
export function logTicks(axis: LogAxis, room: number): readonly LogTick[] {
  const length = Math.abs(axis.to - axis.from);
  const decades = Math.log10(axis.high / axis.low);
  if (decades < 0.7) {
    const { values } = roundTicks(axis.low, axis.high, Math.max(2, Math.floor(length / (1.6 * room))));
    // Even steps come closer together upwards: there not every mark is written.
    let last = Number.POSITIVE_INFINITY;
    return values.map((value) => {
      const place = onLog(axis, value);
      const said = Math.abs(place - last) >= room;
      if (said) last = place;
      return { value, text: said ? numberText(value) : null };
    });
  }
  const first = Math.floor(Math.log10(axis.low));
  const last = Math.ceil(Math.log10(axis.high));
  const perDecade = length / decades;
  const chosen = written.find((digits) => leastGap(digits) * perDecade >= room) ?? [];
  // Where not even every power of ten has room, only each so many-th is written.
  const step = chosen.length > 0 ? 1 : Math.ceil(room / perDecade);
  const ticks: LogTick[] = [];
  for (let power = first; power <= last; power += 1) {
    for (let digit = 1; digit <= 9; digit += 1) {
      const value = Number(`${digit}e${power}`);
      if (value < axis.low || value > axis.high) continue;
      const said = chosen.length > 0 ? chosen.includes(digit) : digit === 1 && power % step === 0;
      if (said || decades <= 6 || digit === 1) ticks.push({ value, text: said ? numberText(value) : null });
    }
  }
  return ticks;
}

function leastGap(digits: readonly number[]): number {
  const ends = [...digits.slice(1), 10];
  return Math.min(...digits.map((digit, i) => Math.log10((ends[i] ?? 10) / digit)));
}

/** A round number as an axis shows it. */
function numberText(value: number): string {
  if (value < 1e-4 || value >= 1e7) return formatSignificant(value, 1, { minus: 'true' });
  return String(Number(value.toPrecision(4)));
}
