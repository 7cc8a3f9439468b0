import type { Remark, RemarkCode, Severity } from '../remark/index.ts';

/** A remark on an experiment file: where in the file, and about which conditions. */
export interface ExperimentRemark extends Remark {
  /** Keys of the place in the file, as `['bodies', 'brass-12', 'mass']`. */
  readonly place: readonly string[];
  /** Names of the conditions that it is about; empty where it is about none in particular. */
  readonly conditions: readonly string[];
}

export function placed(
  code: RemarkCode,
  severity: Severity,
  place: readonly string[],
  message: string,
  action: string,
): ExperimentRemark {
  return { code, severity, place, message, action, conditions: [] };
}

/** A number for a sentence: three figures, no exponent where plain digits are readable. */
export function shown(value: number): string {
  const rounded = Number(value.toPrecision(3));
  return Math.abs(rounded) >= 1e-3 && Math.abs(rounded) < 1e6 ? String(rounded) : rounded.toExponential();
}
