/**
 * Turns values with ARMA(1,1) errors into values with independent errors of one variance, by the exact
 * innovations recursion (Brockwell & Davis, 1991, section 5.2). Values may be missing: the grid positions say
 * where, the errors in between are taken to go on, and nothing is approximated.
 *
 * The work arrays are kept, so that a search over the coefficients allocates nothing.
 */
export class ArmaFilter {
  readonly #steps: ArrayLike<number>;
  readonly #scale: Float64Array;
  readonly #gain: Float64Array;
  readonly #carry: Float64Array;
  /** Values with more than one step to the next, rising, and the length. */
  readonly #stops: readonly number[];
  #phi = 0;
  #logDeterminant = 0;

  /**
   * @param length number of values
   * @param steps steps from each value to the next, whole and at least 1
   */
  constructor(length: number, steps: ArrayLike<number>) {
    this.#steps = steps;
    this.#scale = new Float64Array(length).fill(1);
    this.#gain = new Float64Array(length);
    this.#carry = new Float64Array(length).fill(1);
    const stops: number[] = [];
    for (let i = 0; i < length; i++) if ((steps[i] ?? 1) !== 1) stops.push(i);
    this.#stops = [...stops, length];
  }

  /** Natural logarithm of the determinant of the errors' covariance, in units of the innovation variance. */
  get logDeterminant(): number {
    return this.#logDeterminant;
  }

  /** Sets the coefficients; |phi| < 1. */
  prepare(phi: number, theta: number): void {
    this.#phi = phi;
    const stationary = (1 + 2 * phi * theta + theta * theta) / (1 - phi * phi);
    let variance = stationary;
    let sum = 0;
    let i = 0;
    for (const stop of this.#stops) {
      let before = Number.NaN;
      // The variance of the prediction settles within some steps; from there on all values are alike.
      while (i < stop && variance !== before) {
        sum += this.#set(i, variance, theta);
        before = variance;
        variance = 1 + theta * theta * (1 - 1 / variance);
        i++;
      }
      if (i < stop) {
        const logarithm = this.#set(i, variance, theta);
        this.#scale.fill(this.#scale[i] ?? 1, i, stop);
        this.#gain.fill(theta / variance, i, stop);
        this.#carry.fill(1, i, stop);
        sum += (stop - i) * logarithm;
        i = stop;
      }
      if (i === this.#scale.length) break;
      // The last value before a gap: over the gap, the process forgets.
      sum += this.#set(i, variance, theta);
      const carry = phi ** ((this.#steps[i] ?? 1) - 1);
      this.#carry[i] = carry;
      const next = 1 + theta * theta * (1 - 1 / variance);
      variance = stationary + carry * carry * (next - stationary);
      i++;
    }
    this.#logDeterminant = sum;
  }

  /** Sets one value by the variance of its prediction; returns the logarithm of that. */
  #set(i: number, variance: number, theta: number): number {
    this.#scale[i] = 1 / Math.sqrt(variance);
    this.#gain[i] = theta / variance;
    this.#carry[i] = 1;
    return Math.log(variance);
  }

  /**
   * Innovations of a series over their relative standard deviation: independent, each with the innovation
   * variance, if the series is the process.
   */
  whiten(x: ArrayLike<number>, out: Float64Array = new Float64Array(x.length)): Float64Array {
    const scale = this.#scale;
    const gain = this.#gain;
    const carry = this.#carry;
    const phi = this.#phi;
    let prediction = 0;
    for (let i = 0; i < x.length; i++) {
      const value = x[i] ?? Number.NaN;
      const innovation = value - prediction;
      out[i] = innovation * (scale[i] ?? Number.NaN);
      prediction = (carry[i] ?? Number.NaN) * (phi * value + (gain[i] ?? Number.NaN) * innovation);
    }
    return out;
  }

  /**
   * `whiten` for several series of one length. Two go side by side: each waits for its own last step, and one alone
   * leaves the processor idle for half the time.
   *
   * @param series as long as the filter
   * @param out as many, as long; overwritten
   */
  whitenAll(series: readonly Float64Array[], out: readonly Float64Array[]): void {
    let k = 0;
    for (; k + 1 < series.length; k += 2) {
      const [a, b, outA, outB] = [series[k], series[k + 1], out[k], out[k + 1]];
      if (a && b && outA && outB) this.#whitenTwo(a, b, outA, outB);
    }
    const last = series[k];
    if (last) this.whiten(last, out[k]);
  }

  #whitenTwo(a: Float64Array, b: Float64Array, outA: Float64Array, outB: Float64Array): void {
    const scale = this.#scale;
    const gain = this.#gain;
    const carry = this.#carry;
    const phi = this.#phi;
    let predictionA = 0;
    let predictionB = 0;
    for (let i = 0; i < a.length; i++) {
      const s = scale[i] ?? Number.NaN;
      const g = gain[i] ?? Number.NaN;
      const c = carry[i] ?? Number.NaN;
      const valueA = a[i] ?? Number.NaN;
      const valueB = b[i] ?? Number.NaN;
      const innovationA = valueA - predictionA;
      const innovationB = valueB - predictionB;
      outA[i] = innovationA * s;
      outB[i] = innovationB * s;
      predictionA = c * (phi * valueA + g * innovationA);
      predictionB = c * (phi * valueB + g * innovationB);
    }
  }

  /**
   * The transposed map: the product of z and whiten(x) is that of whitenTransposed(z) and x, for every x. One
   * call serves many x.
   */
  whitenTransposed(z: ArrayLike<number>): Float64Array {
    const scale = this.#scale;
    const gain = this.#gain;
    const carry = this.#carry;
    const phi = this.#phi;
    const out = new Float64Array(z.length);
    let ahead = 0;
    for (let i = z.length - 1; i >= 0; i--) {
      const c = (carry[i] ?? Number.NaN) * ahead;
      const v = (z[i] ?? Number.NaN) * (scale[i] ?? Number.NaN) + (gain[i] ?? Number.NaN) * c;
      out[i] = v + phi * c;
      ahead = -v;
    }
    return out;
  }
}

/**
 * Steps between grid positions, for the functions that take them.
 *
 * @param positions whole numbers, strictly rising
 * @throws RangeError where they are not
 */
export function stepsBetween(positions: ArrayLike<number>): Float64Array {
  const steps = new Float64Array(Math.max(0, positions.length - 1));
  for (let i = 0; i < steps.length; i++) {
    const step = (positions[i + 1] ?? Number.NaN) - (positions[i] ?? Number.NaN);
    if (!(Number.isSafeInteger(step) && step >= 1)) {
      throw new RangeError(`grid positions must be whole and rising; position ${i + 1} follows by ${step}`);
    }
    steps[i] = step;
  }
  return steps;
}
