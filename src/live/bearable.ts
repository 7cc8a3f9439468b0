/** A change of tau by this part is still no matter (common practice, no source). */
export const bearableChange = 0.01;

/**
 * How strongly a wrong ambient moves the time constant of a fit with amplitude and time constant free: the relative
 * change of tau for an ambient that is off by the whole step. Least squares move ln tau by the first component of
 * M⁻¹ ∫ f dx, with M = ∫ f fᵀ dx and f = (x e⁻ˣ, e⁻ˣ) over the record, x in time constants; for a long record it is 4.
 *
 * @param length of the cooling, in time constants, > 0
 * @returns NaN outside the range
 */
export function ambientLeverage(length: number): number {
  if (!(length > 0)) return Number.NaN;
  const once = Math.exp(-length);
  const twice = once * once;
  const squares = 1 / 4 - twice * (length ** 2 / 2 + length / 2 + 1 / 4);
  const mixed = 1 / 4 - twice * (length / 2 + 1 / 4);
  const falls = (1 - twice) / 2;
  const first = 1 - once * (length + 1);
  const second = 1 - once;
  return (falls * first - mixed * second) / (squares * falls - mixed * mixed);
}

/**
 * By how much the zero may move between baseline and cooling, K, so that tau changes by no more than a part. What moves
 * alike in both cancels, for the error fraction does not change when all readings are shifted.
 *
 * @param step excess over the ambient when the heat goes off, K, > 0
 * @param endFraction error fraction that the cooling is recorded to, between 0 and 1
 * @param bearable relative change of tau
 */
export function bearableZeroShift(step: number, endFraction: number, bearable = bearableChange): number {
  return (bearable * step) / ambientLeverage(-Math.log(endFraction));
}
