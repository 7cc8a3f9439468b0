import { formatAtPlace, formatWithInterval, formatWithUncertainty, trueMinus } from '../quantity/index.ts';

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

/** An interval to the place of a value that stands beside it with its standard uncertainty. */
export function quotedBeside(
  value: number,
  standardUncertainty: number,
  interval: readonly [number, number],
  { figures }: Quoting,
): string {
  const { place } = formatWithUncertainty(value, standardUncertainty, { figures });
  if (place === null) return quotedInterval(value, interval, { figures }).interval;
  return interval.map((end) => formatAtPlace(end, place, { minus: 'true' })).join(' to ');
}

/** A time constant with its coverage interval, as it is stated everywhere. */
export interface StatedResult {
  readonly value: number;
  readonly interval: readonly [number, number];
}

/** Beyond this, what lies above the value is so much more than what lies below that ± would mislead. */
const lopsided = 1.2;

/**
 * A result as it is quoted: with its expanded uncertainty, or with its interval where that is not nearly symmetric.
 *
 * @param coverage probability of the interval
 */
export function quotedResult({ value, interval }: StatedResult, coverage: number, quoting: Quoting): string {
  const percent = `${Math.round(coverage * 1000) / 10} %`;
  const [low, high] = interval;
  if ((high - value) / (value - low) > lopsided) {
    const set = quotedInterval(value, interval, quoting);
    return `${set.value} s, ${percent} interval ${set.interval} s`;
  }
  return `${quoted(value, halfWidth(interval), 's', quoting)}, coverage ${percent}`;
}

/** A sentence that was made for a terminal, as it is set: true minus signs, and the letter for its name. */
export function paperWords(sentence: string): string {
  return trueMinus(sentence).replace(/\btau\b/g, 'τ');
}

/** A part of a variance. */
export function shareWords(share: number): string {
  return share > 0 && share < 0.005 ? '< 1 %' : `${Math.round(100 * share)} %`;
}

/** Half of what an interval spans: what stands behind the ± where it is nearly symmetric. */
export function halfWidth([low, high]: readonly [number, number]): number {
  return (high - low) / 2;
}
