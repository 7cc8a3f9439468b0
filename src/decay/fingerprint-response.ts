/** Mistakes that move the three classroom values, each by one size. */
export type FaultKind =
  /** The clock was zeroed before the cooling began; size: by how many time constants. */
  | 'start-time'
  /** The start temperature is too high; size: part of the step. */
  | 'start-temperature'
  /** The ambient is too high; size: part of the step. */
  | 'ambient';

/** Points of the ideal decay that the regressions are made on. */
const points = 400;

/**
 * What a mistake makes of the three classroom values of a perfect exponential decay of time constant 1, fitted
 * between two error fractions as the class sees them.
 *
 * @param size of the mistake, see the kinds
 * @param upper error fraction that the fit begins at, below 1 and above `lower`
 * @param lower error fraction that it ends at, above 0
 * @returns 36.8 % value, regression through the origin, regression with an intercept; NaN where not reached
 */
export function classroomResponse(
  kind: FaultKind,
  size: number,
  upper = 0.9,
  lower = 0.1,
): [number, number, number] {
  const delay = kind === 'start-time' ? size : 0;
  const ambient = kind === 'ambient' ? size : 0;
  const scale = 1 - ambient + (kind === 'start-temperature' ? size : 0);
  // Seen fraction g = (exp(−(x − delay)) − ambient)/scale, solved for the seen time x.
  const timeAt = (g: number) => delay - Math.log(g * scale + ambient);
  const from = Math.max(0, timeAt(upper));
  const to = timeAt(lower);
  if (!(to > from)) return [Number.NaN, Number.NaN, Number.NaN];
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < points; i++) {
    const x = from + ((to - from) * (i + 0.5)) / points;
    const y = Math.log((Math.exp(delay - x) - ambient) / scale);
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const origin = -sxx / sxy;
  const intercept = -(sxx - (sx * sx) / points) / (sxy - (sx * sy) / points);
  return [timeAt(Math.exp(-1)), origin, intercept];
}
