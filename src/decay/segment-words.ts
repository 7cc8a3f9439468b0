/**
 * A number for a sentence: so many significant figures, without an exponent where that stays readable.
 *
 * @param x any number
 * @param figures 1 to 6
 */
export function figures(x: number, figures = 3): string {
  if (!Number.isFinite(x)) return 'unknown';
  return String(Number(x.toPrecision(figures))).replace('-', '−');
}
