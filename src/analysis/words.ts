import type { EstimateMethod, TimeConstant, Verdict } from '../decay/index.ts';
import { formatSignificant, formatWithUncertainty } from '../quantity/index.ts';
import type { Dialect, Recording } from '../recording/index.ts';

/** Names of the estimates, as every text has them. */
export const methodWords: Readonly<Record<EstimateMethod, string>> = {
  'exponential-fit': 'exponential fit',
  'point-36.8': '36.8 % point',
  'log-linear-origin': 'ln through origin',
  'log-linear-intercept': 'ln with intercept',
};

/** Verdicts as people read them. */
export const verdictWords: Readonly<Record<Verdict, string>> = {
  usable: 'usable',
  'usable-with-remarks': 'usable, with remarks',
  repeat: 'repeat',
};

const delimiterWords: Readonly<Record<Dialect['delimiter'], string>> = {
  '\t': 'tabs',
  ',': 'commas',
  ';': 'semicolons',
  '|': 'bars',
  space: 'spaces',
};

/** How the text was understood, in a few words. */
export function dialectWords({ dialect, channels }: Recording): string {
  const decimal = dialect.decimal === ',' ? 'decimal comma' : 'decimal point';
  const single = channels.length === 1 && channels[0]?.column === 1 && dialect.time.kind === 'none';
  const columns = single ? 'one column' : `columns by ${delimiterWords[dialect.delimiter]}`;
  return `${dialect.encoding}, ${columns}, ${decimal}`;
}

/** Half the width of the coverage interval, s: what stands behind the ± where the interval is nearly symmetric. */
export function expandedUncertainty(timeConstant: TimeConstant): number {
  return (timeConstant.interval[1] - timeConstant.interval[0]) / 2;
}

/**
 * The time constant as it is quoted: value ± expanded uncertainty, rounded together. Where the interval is clearly
 * lopsided, the interval itself follows.
 */
export function timeConstantWords(timeConstant: TimeConstant): string {
  const { value, interval } = timeConstant;
  const { text } = formatWithUncertainty(value, expandedUncertainty(timeConstant));
  const lopsided = (interval[1] - value) / (value - interval[0]) > 1.2;
  return `${text} s${lopsided ? ` (from ${formatSignificant(interval[0], 3)} to ${formatSignificant(interval[1], 3)} s)` : ''}`;
}

/**
 * Seconds for people, without the unit: two decimals below 10 s, one from there on.
 *
 * @param value s
 */
export function seconds(value: number): string {
  const decimals = Math.abs(value) < 10 ? 2 : 1;
  return value.toFixed(decimals);
}

/**
 * A frequency for people, with its unit, to four figures.
 *
 * @param value Hz
 */
export function hertz(value: number): string {
  return `${Number(value.toPrecision(4))} Hz`;
}

/**
 * A whole number in groups of three, as 24 001; the blanks are no place to break a line.
 *
 * @param value a count; is rounded to a whole one
 */
export function grouped(value: number): string {
  return String(Math.round(value)).replace(/\B(?=(\d{3})+(?!\d))/g, '\u00a0');
}
