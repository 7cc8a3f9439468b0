/**
 * Numbers as they are written, as pure functions; `measured.tsx` sets them.
 *
 *   measuredWords(37.28, 0.41, 's')   '37.3 ± 0.4 s' is { value: '37.28', uncertainty: '0.41', … }
 *   splitAtMark('37.28')              { whole: '37', part: '.28' }, to align a column on the decimal mark
 *   halfWidth([36.9, 37.7])           0.4, the ± of a 95 % interval
 */
import { formatWithUncertainty } from '../../../src/quantity/index.ts';

export interface Written {
  readonly value: string;
  readonly uncertainty: string;
  /** Behind the bracket where both share a power of ten: ' × 10⁻⁶'; else empty. */
  readonly scale: string;
  /** All of it in one line, for names and titles. */
  readonly text: string;
}

/** A value and its uncertainty, rounded together to two figures of the uncertainty. */
export function measuredWords(value: number, uncertainty: number, unit: string): Written {
  const written = formatWithUncertainty(value, uncertainty, { unit, minus: 'true' });
  const scale = / × 10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+/.exec(written.text)?.[0] ?? '';
  return { value: written.value, uncertainty: written.uncertainty, scale, text: written.text };
}

/** Half of the width of an interval: the number behind the ±. */
export function halfWidth([low, high]: readonly [number, number]): number {
  return (high - low) / 2;
}

/** The figures before the decimal mark, and the mark with those behind it. */
export function splitAtMark(text: string): { readonly whole: string; readonly part: string } {
  const at = text.indexOf('.');
  return at < 0 ? { whole: text, part: '' } : { whole: text.slice(0, at), part: text.slice(at) };
}

/** Most figures behind the decimal mark in a column. */
export function mostDecimals(texts: readonly string[]): number {
  return Math.max(0, ...texts.map((text) => splitAtMark(text).part.length - 1));
}
