/** Value of a polynomial by Horner's rule, coefficients from the constant up. */
export function polynomial(coefficients: Float64Array, x: number): number {
  let value = 0;
  for (let k = coefficients.length - 1; k >= 0; k--) value = value * x + (coefficients[k] ?? 0);
  return value;
}

/** Coefficients of the derivative. */
export function derivativeOf(coefficients: Float64Array): Float64Array {
  return coefficients.slice(1).map((coefficient, k) => coefficient * (k + 1));
}

/** Decimal places that exact sums are carried to: enough for the smallest published coefficient. */
const places = 80;

/**
 * Coefficients of the same polynomial about another point, in exact decimal arithmetic. Far from zero the terms of
 * a reference function are a thousand times their sum and rounding would cost nanokelvins to tens of them; about
 * the middle of its range they are not.
 *
 * @param coefficients from the constant up, as published: magnitudes from 1e-60 to 1e15, at most 17 digits
 * @param centre whole number
 */
export function aboutCentre(coefficients: readonly number[], centre: number): Float64Array {
  const exact = coefficients.map(decimal);
  const middle = BigInt(centre);
  return Float64Array.from(coefficients, (_, j) => {
    let sum = 0n;
    for (const [k, c] of exact.entries()) {
      if (k >= j) sum += c * binomial(k, j) * middle ** BigInt(k - j);
    }
    return Number(sum) / 10 ** places;
  });
}

/** A decimal number as a whole number of the smallest place. */
function decimal(x: number): bigint {
  const [mantissa = '0', exponent = '0'] = x.toExponential().split('e');
  const [whole = '0', fraction = ''] = mantissa.split('.');
  return BigInt(whole + fraction) * 10n ** BigInt(places + Number(exponent) - fraction.length);
}

function binomial(n: number, k: number): bigint {
  let value = 1n;
  for (let i = 1; i <= k; i++) value = (value * BigInt(n - k + i)) / BigInt(i);
  return value;
}
