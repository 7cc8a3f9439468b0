import { formatWithInterval, formatWithUncertainty } from '../quantity/index.ts';

/** How results are quoted in this course. */
export interface Quoting {
  /** Significant figures of an uncertainty. */
  readonly figures: 1 | 2;
}

/** Value and uncertainty, rounded together, with the unit behind both. */
export function quoted(value: number, uncertainty: number, unit: string, { figures }: Quoting): string {
  return formatWithUncertainty(value, uncertainty, { figures, unit, minus: 'true' }).text;
}

/** The two as entries of a table. */
export function quotedPair(value: number, uncertainty: number, { figures }: Quoting): [string, string] {
  const set = formatWithUncertainty(value, uncertainty, { figures, minus: 'true' });
  if (set.exponent === 0) return [set.value, set.uncertainty];
  return [set.text, ''];
}

/** A value and its interval as they are written, all to the same place. */
export interface WrittenInterval {
  readonly value: string;
  /** Such as `31 to 56`. */
  readonly interval: string;
}

/** A value and an interval that need not lie evenly about it, all rounded to the same place. */
export function quotedInterval(
  value: number,
  interval: readonly [number, number | null],
  { figures }: Quoting,
): WrittenInterval {
  const set = formatWithInterval(value, interval, { figures, minus: 'true' });
  return { value: set.value, interval: `${set.low} to ${set.high}` };
}

/** Half of what an interval spans: what stands behind the ± where it is nearly symmetric. */
export function halfWidth([low, high]: readonly [number, number]): number {
  return (high - low) / 2;
}
