import type { Remark, RemarkCode, Severity } from '../remark/index.ts';

/** A remark from its four parts. */
export function remark(code: RemarkCode, severity: Severity, message: string, action: string): Remark {
  return { code, severity, message, action };
}

/** A number as it stands in a sentence: three figures, without an exponent where that can be. */
export function shown(value: number): string {
  const rounded = Number(value.toPrecision(3));
  return Math.abs(rounded) >= 1e7 || (rounded !== 0 && Math.abs(rounded) < 1e-3)
    ? rounded.toExponential()
    : String(rounded);
}
