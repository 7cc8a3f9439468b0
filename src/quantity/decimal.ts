/** A number rounded in decimal: `digits` times ten to the power of `place`. */
export interface RoundedDecimal {
  /** Magnitude, without the sign. */
  readonly digits: bigint;
  /** Power of ten of the last digit that is kept: -2 for hundredths, 1 for tens. */
  readonly place: number;
}

/**
 * Rounds the magnitude of a number at a decimal place, halves away from zero (ISO 80000-1:2009, Annex B,
 * rule B). The shortest decimal that stands for the number is rounded, so that 0.15 becomes 0.2 as on paper,
 * although its binary form is a little less.
 *
 * @param x finite
 * @param place power of ten of the last digit to keep, an integer
 */
export function roundAt(x: number, place: number): RoundedDecimal {
  const [mantissa = '0', exponent = '0'] = Math.abs(x).toExponential().split('e');
  const fraction = mantissa.length > 1 ? mantissa.length - 2 : 0;
  const digits = BigInt(mantissa.replace('.', ''));
  const shift = place - (Number(exponent) - fraction);
  if (shift <= 0) return { digits: digits * 10n ** BigInt(-shift), place };
  // A double has at most 17 digits: beyond that nothing is left to round.
  if (shift > 18) return { digits: 0n, place };
  const divisor = 10n ** BigInt(shift);
  const half = 2n * (digits % divisor) >= divisor ? 1n : 0n;
  return { digits: digits / divisor + half, place };
}

/**
 * Power of ten of the first digit: 2 for 123, -2 for 0.045.
 *
 * @param x finite and not zero
 */
export function leadingPlace(x: number): number {
  return Number(Math.abs(x).toExponential().split('e')[1] ?? 0);
}

/** Writes a rounded number in plain digits, with a decimal point and no thousands marks. */
export function plainDigits(rounded: RoundedDecimal): string {
  const { digits, place } = rounded;
  if (place >= 0) return String(digits * 10n ** BigInt(place));
  const padded = String(digits).padStart(1 - place, '0');
  return `${padded.slice(0, place)}.${padded.slice(place)}`;
}
