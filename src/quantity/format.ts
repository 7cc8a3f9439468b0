import { leadingPlace, plainDigits, type RoundedDecimal, roundAt } from './decimal.ts';

/** How numbers are written. */
export interface NumberStyle {
  /** `ascii` writes a hyphen-minus, for files and terminals; `true` the minus sign U+2212. Default `ascii`. */
  readonly minus?: 'ascii' | 'true';
}

export interface UncertaintyStyle extends NumberStyle {
  /** Significant figures of the uncertainty. Default 2 (JCGM 100:2008, 7.2.6: at most two usually suffice). */
  readonly figures?: 1 | 2;
  /** Unit symbol, set behind the numbers after a space. */
  readonly unit?: string;
}

/** A value and its uncertainty, rounded together. */
export interface FormattedQuantity {
  /** Without the power of ten. */
  readonly value: string;
  /** Without the power of ten. */
  readonly uncertainty: string;
  /** Common power of ten; 0 where plain digits do. */
  readonly exponent: number;
  /** Power of ten of the last digit shown, null where there is nothing to round by. */
  readonly place: number | null;
  /** All of it, such as `(12.0 ± 0.3) s`. */
  readonly text: string;
}

/** A value and the ends of its interval, rounded together. */
export interface FormattedInterval {
  readonly value: string;
  readonly low: string;
  /** `∞` where there is no upper end. */
  readonly high: string;
}

/** Stands in for a number that is not known. */
const unknown = 'unknown';
/** A double carries 15 decimal digits for certain: no digit behind them is shown. */
const trustedDigits = 15;

/**
 * Writes a value and its uncertainty, rounded together: the uncertainty to two significant figures (or one),
 * the value to the same decimal place. A carry moves the place: 0.0996 becomes 0.10. Where the last figure
 * lies before the decimal point, both are filled up with zeros (1230 ± 60): the uncertainty beside the value
 * says which digits count. Magnitudes from a hundred million up and below a ten-thousandth are written with a
 * common power of ten. Spacing and parentheses follow ISO 80000-1:2009, 7.1.4 and 7.3.2 (numbers of the
 * clauses from memory).
 *
 * An uncertainty of 0 leaves the value as it is; an infinite one keeps two figures of the value; a value that
 * is not finite, or an uncertainty that is negative or not a number, is written as `unknown`.
 *
 * @param value in any unit
 * @param uncertainty in the same unit, at least 0: standard or expanded, as the caller says beside it
 */
export function formatWithUncertainty(
  value: number,
  uncertainty: number,
  style: UncertaintyStyle = {},
): FormattedQuantity {
  if (!Number.isFinite(value)) {
    return { value: unknown, uncertainty: unknown, exponent: 0, place: null, text: unknown };
  }
  if (!(uncertainty > 0 && Number.isFinite(uncertainty))) {
    const spoken = uncertainty === 0 ? '0' : uncertainty === Infinity ? '∞' : unknown;
    const shown =
      uncertainty === Infinity
        ? formatSignificant(value, 2, style)
        : signed(String(Math.abs(value)), value, style);
    return { ...joined(shown, spoken, 0, style), place: null };
  }
  const place = Math.max(
    uncertaintyPlace(uncertainty, style.figures ?? 2),
    value === 0 ? Number.NEGATIVE_INFINITY : leadingPlace(value) - trustedDigits + 1,
  );
  const roundedValue = roundAt(value, place);
  const roundedUncertainty = roundAt(uncertainty, place);
  const exponent = commonExponent(roundedValue, roundedUncertainty);
  const down = (rounded: RoundedDecimal) => plainDigits({ digits: rounded.digits, place: place - exponent });
  const shown = signed(down(roundedValue), roundedValue.digits === 0n ? 0 : value, style);
  return { ...joined(shown, down(roundedUncertainty), exponent, style), place };
}

/**
 * Writes a value and an interval that need not lie evenly about it, all to the place that half of the interval's width
 * asks for by the rule of `formatWithUncertainty`; where there is no upper end, to the place that the part below the
 * value asks for. An interval without a width leaves the numbers as they are.
 *
 * @param value in any unit
 * @param interval in the same unit; the upper end null or infinite where there is none
 */
export function formatWithInterval(
  value: number,
  [low, high]: readonly [number, number | null],
  style: Omit<UncertaintyStyle, 'unit'> = {},
): FormattedInterval {
  const top = high ?? Number.POSITIVE_INFINITY;
  const spread = Number.isFinite(top) ? (top - low) / 2 : value - low;
  const { place } = formatWithUncertainty(value, spread, style);
  const written = (end: number) =>
    place === null ? formatWithUncertainty(end, 0, style).value : formatAtPlace(end, place, style);
  return { value: written(value), low: written(low), high: written(top) };
}

/**
 * Writes a number to a number of significant figures, in plain digits where that is readable.
 *
 * @param value any number; one that is not finite is written as `unknown` or `∞`
 * @param figures 1 to 15
 */
export function formatSignificant(value: number, figures: number, style: NumberStyle = {}): string {
  if (!Number.isFinite(value)) return unbounded(value, style);
  if (value === 0) return '0';
  const place = uncertaintyPlace(value, Math.min(Math.max(Math.trunc(figures), 1), trustedDigits));
  const rounded = roundAt(value, place);
  const exponent = commonExponent(rounded, rounded);
  const digits = signed(plainDigits({ digits: rounded.digits, place: place - exponent }), value, style);
  return exponent === 0 ? digits : `${digits} × ${powerOfTen(exponent)}`;
}

/**
 * Writes a number to a decimal place, so that it lines up with one that `formatWithUncertainty` wrote.
 *
 * @param value any number; one that is not finite is written as `unknown` or `∞`
 * @param place power of ten of the last digit, -300 to 300: -2 for hundredths, 1 for tens
 */
export function formatAtPlace(value: number, place: number, style: NumberStyle = {}): string {
  if (!Number.isFinite(value)) return unbounded(value, style);
  const rounded = roundAt(value, place);
  return signed(plainDigits(rounded), rounded.digits === 0n ? 0 : value, style);
}

/**
 * A number and its unit, with the space that ISO 80000-1 asks for before every unit, °C and %
 * among them, but not before the degree, minute and second of a plane angle.
 */
export function withUnit(number: string, unit: string): string {
  if (unit === '' || unit === '1') return number;
  return unit === '°' || unit === '′' || unit === '″' ? `${number}${unit}` : `${number} ${unit}`;
}

/** Place of the last of so many figures, one higher where rounding carries. */
function uncertaintyPlace(x: number, figures: number): number {
  const place = leadingPlace(x) - figures + 1;
  return roundAt(x, place).digits >= 10n ** BigInt(figures) ? place + 1 : place;
}

/** Power of ten to take out, 0 where plain digits are readable. */
function commonExponent(a: RoundedDecimal, b: RoundedDecimal): number {
  const larger = a.digits > b.digits ? a : b;
  const leading = String(larger.digits).length - 1 + larger.place;
  return leading >= 8 || leading < -4 ? leading : 0;
}

function joined(
  value: string,
  uncertainty: string,
  exponent: number,
  style: UncertaintyStyle,
): Omit<FormattedQuantity, 'place'> {
  const unit = style.unit ?? '';
  const pair = `${value} ± ${uncertainty}`;
  const enclosed = exponent !== 0 || withUnit('', unit) !== '' ? `(${pair})` : pair;
  const scaled = exponent === 0 ? enclosed : `${enclosed} × ${powerOfTen(exponent)}`;
  return { value, uncertainty, exponent, text: withUnit(scaled, unit) };
}

/**
 * A sentence with minus signs (U+2212) for the hyphens of its negative numbers, for pages and paper. Hyphens within
 * words, names, dates and ranges stay.
 */
export function trueMinus(text: string): string {
  return text.replace(/(^|[\s([=<>≤≥±])-(?=\d)/g, '$1−');
}

function signed(magnitude: string, value: number, style: NumberStyle): string {
  if (value >= 0) return magnitude;
  return `${style.minus === 'true' ? '−' : '-'}${magnitude}`;
}

function unbounded(value: number, style: NumberStyle): string {
  return Number.isNaN(value) ? unknown : signed('∞', value, style);
}

const superscripts = '⁰¹²³⁴⁵⁶⁷⁸⁹';

function powerOfTen(exponent: number): string {
  const digits = Array.from(String(Math.abs(exponent)), (digit) => superscripts[Number(digit)] ?? '');
  return `10${exponent < 0 ? '⁻' : ''}${digits.join('')}`;
}
