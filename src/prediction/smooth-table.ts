/**
 * A smooth function of temperature and pressure as a polynomial, for a hundred thousand calls: a polynomial in the
 * temperature whose coefficients are parabolas in the pressure.
 */
export interface SmoothTable {
  /** Middle and half width of the temperatures, K. */
  readonly middle: number;
  readonly half: number;
  /** Three numbers for each power of the scaled temperature, the lowest power first: 1, p and p² with p in bar. */
  readonly coefficients: Float64Array;
}

const perBar = 1e-5;

/** Coefficients of 1, y, y², … of the polynomial through the Chebyshev nodes of -1 to 1. */
function powerCoefficients(degree: number, f: (y: number) => number): readonly number[] {
  const count = degree + 1;
  const angles = Array.from({ length: count }, (_, i) => (Math.PI * (i + 0.5)) / count);
  const values = angles.map((angle) => f(Math.cos(angle)));
  const powers = new Array<number>(count).fill(0);
  let previous: readonly number[] = [];
  let chebyshev: readonly number[] = [1];
  for (let j = 0; j < count; j += 1) {
    const weight =
      ((j === 0 ? 1 : 2) / count) *
      values.reduce((sum, value, i) => sum + value * Math.cos(j * (angles[i] ?? 0)), 0);
    chebyshev.forEach((c, power) => {
      powers[power] = (powers[power] ?? 0) + weight * c;
    });
    const doubled = [0, ...chebyshev.map((c) => (j === 0 ? c : 2 * c))];
    const next = doubled.map((c, power) => c - (previous[power] ?? 0));
    previous = chebyshev;
    chebyshev = next;
  }
  return powers;
}

/** Coefficients of 1, p, p² of the parabola through three points. */
function parabola(
  [p0, p1, p2]: readonly [number, number, number],
  [f0, f1, f2]: readonly [number, number, number],
): readonly [number, number, number] {
  const slope = (f1 - f0) / (p1 - p0);
  const bend = ((f2 - f1) / (p2 - p1) - slope) / (p2 - p0);
  return [f0 - p0 * (slope - p1 * bend), slope - (p0 + p1) * bend, bend];
}

/**
 * The table of a function, through the Chebyshev nodes in temperature and three pressures.
 *
 * @param temperatures K, lowest and highest
 * @param pressures three pressures in Pa, rising
 * @param degree of the polynomial in temperature
 * @param f of temperature in K and pressure in Pa; finite between the limits
 */
export function smoothTable(
  temperatures: readonly [number, number],
  pressures: readonly [number, number, number],
  degree: number,
  f: (temperature: number, pressure: number) => number,
): SmoothTable {
  const middle = (temperatures[0] + temperatures[1]) / 2;
  const half = (temperatures[1] - temperatures[0]) / 2;
  const at = (pressure: number) => powerCoefficients(degree, (y) => f(middle + half * y, pressure));
  const [low, mid, high] = pressures;
  const [a, b, c] = [at(low), at(mid), at(high)];
  const coefficients = new Float64Array(3 * (degree + 1));
  for (let j = 0; j <= degree; j += 1) {
    coefficients.set(
      parabola([low * perBar, mid * perBar, high * perBar], [a[j] ?? 0, b[j] ?? 0, c[j] ?? 0]),
      3 * j,
    );
  }
  return { middle, half, coefficients };
}

/**
 * Value of a table by Horner's rule.
 *
 * @param table from `smoothTable`
 * @param temperature K, inside the limits of the table
 * @param pressure Pa, inside the limits of the table
 */
export function smoothValue(table: SmoothTable, temperature: number, pressure: number): number {
  const { coefficients, middle, half } = table;
  const y = (temperature - middle) / half;
  const p = pressure * perBar;
  let value = 0;
  for (let j = coefficients.length - 3; j >= 0; j -= 3) {
    const constant = coefficients[j] as number;
    const slope = coefficients[j + 1] as number;
    const bend = coefficients[j + 2] as number;
    value = value * y + (constant + p * (slope + p * bend));
  }
  return value;
}
