/**
 * Sum with a running correction for what rounding lost (Neumaier, 1974).
 *
 * @param term the i-th term, i from 0 to n - 1
 */
export function sumOf(n: number, term: (i: number) => number): number {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < n; i++) {
    const x = term(i);
    const next = sum + x;
    lost += Math.abs(sum) >= Math.abs(x) ? sum - next + x : x - next + sum;
    sum = next;
  }
  return sum + lost;
}

/** The i-th value of a series, NaN past its end. */
export function valueAt(values: ArrayLike<number>, i: number): number {
  return values[i] ?? Number.NaN;
}

/**
 * Arithmetic mean, taken about the first value, so that a large common offset costs no digits.
 *
 * @returns NaN for no values
 */
export function mean(values: ArrayLike<number>): number {
  const first = valueAt(values, 0);
  return first + sumOf(values.length, (i) => valueAt(values, i) - first) / values.length;
}

/**
 * Sum of squared deviations from the mean, corrected for the rounding of the mean (Chan, Golub & LeVeque,
 * 1983, the corrected two-pass algorithm).
 */
export function sumOfSquares(values: ArrayLike<number>): number {
  const centre = mean(values);
  const squares = sumOf(values.length, (i) => (valueAt(values, i) - centre) ** 2);
  const rest = sumOf(values.length, (i) => valueAt(values, i) - centre);
  return squares - (rest * rest) / values.length;
}

/**
 * Sample standard deviation, with n - 1 in the denominator.
 *
 * @returns NaN for fewer than two values
 */
export function standardDeviation(values: ArrayLike<number>): number {
  return values.length < 2 ? Number.NaN : Math.sqrt(sumOfSquares(values) / (values.length - 1));
}

/**
 * Quantile by linear interpolation between order statistics at position (n - 1) p, which is definition 7 of
 * Hyndman & Fan (1996).
 *
 * @param values in any order, all finite
 * @param p 0 to 1
 * @returns NaN for no values or p outside its range
 */
export function quantile(values: ArrayLike<number>, p: number): number {
  return quantileOfSorted(new Float64Array(values).sort(), p);
}

/**
 * The same quantile, where the values are already in rising order.
 *
 * @param sorted in rising order
 * @param p 0 to 1
 */
export function quantileOfSorted(sorted: ArrayLike<number>, p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  const position = (sorted.length - 1) * p;
  const below = Math.floor(position);
  const low = valueAt(sorted, below);
  const fraction = position - below;
  return fraction === 0 ? low : low + fraction * (valueAt(sorted, below + 1) - low);
}

/**
 * Middle value; the mean of the two middle ones for an even number.
 *
 * @returns NaN for no values
 */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/** Makes the median absolute deviation of normal data a standard deviation: 1/Φ⁻¹(3/4). */
const madFactor = 1.482602218505602;

/**
 * Median absolute deviation from the median, times 1.4826: a standard deviation that outliers do not move.
 *
 * @returns NaN for no values
 */
export function scaledMad(values: ArrayLike<number>): number {
  const centre = median(values);
  return madFactor * median(new Float64Array(values).map((value) => Math.abs(value - centre)));
}
