import { formatAtPlace, formatSignificant } from '../quantity/index.ts';
import type { WrittenFormula } from './steps-types.ts';

/** How results are written in a course. */
export interface StepQuoting {
  /** Significant figures of an uncertainty. */
  readonly figures: 1 | 2;
}

/** What is said where a rule is the trade's own. */
export const commonPractice = 'common practice, no source';

/** A number to so many significant figures, with the true minus sign. */
export function figures(value: number, count = 6): string {
  return formatSignificant(value, count, { minus: 'true' });
}

/** A number to so many decimals, with the true minus sign. */
export function decimals(value: number, count: number): string {
  return formatAtPlace(value, -count, { minus: 'true' });
}

/**
 * A formula in letters or with numbers in it.
 *
 * @param tex with `<name>` where the number of that name belongs
 * @param plain the same for reading out
 * @param values numbers as they are written; they go into both
 * @param source author and year, or the standard
 */
export function formula(
  tex: string,
  plain: string,
  values: Readonly<Record<string, string>>,
  source: string,
): WrittenFormula {
  const put = (text: string, written: (value: string) => string) =>
    text.replace(/<(\w+)>(?=(\^|²)?)/g, (_, name: string, squared: string | undefined) => {
      const value = values[name] ?? 'unknown';
      // What is raised as a whole must not look as if its power of ten were.
      const whole = squared !== undefined && /[×−]/.test(value);
      return whole ? `(${written(value)})` : written(value);
    });
  return { tex: put(tex, texNumber), plain: put(plain, (value) => value), source };
}

const superscripts = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** A written number as TeX. */
function texNumber(text: string): string {
  return text
    .replaceAll('−', '-')
    .replace('∞', '\\infty')
    .replace('unknown', '\\text{unknown}')
    .replace(/ × 10(⁻?)([⁰¹²³⁴-⁹]+)/, (_, sign: string, digits: string) => {
      const power = Array.from(digits, (digit) => superscripts.indexOf(digit)).join('');
      return ` \\times 10^{${sign === '' ? '' : '-'}${power}}`;
    });
}
