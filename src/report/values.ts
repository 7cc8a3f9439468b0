import { formatAtPlace, formatWithUncertainty } from '../quantity/index.ts';

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

/** An interval to the place to which the value beside it is rounded. */
export function quotedInterval(
  [low, high]: readonly [number, number | null],
  uncertainty: number,
  { figures }: Quoting,
): string {
  const place = formatWithUncertainty(low, uncertainty, { figures }).place ?? -3;
  const written = (end: number) => formatAtPlace(end, place, { minus: 'true' });
  return `${written(low)} to ${high === null || !Number.isFinite(high) ? '∞' : written(high)}`;
}

/** Half of what an interval spans: what stands behind the ± where it is nearly symmetric. */
export function halfWidth([low, high]: readonly [number, number]): number {
  return (high - low) / 2;
}
