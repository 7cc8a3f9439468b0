/** A smooth curve through points with known slopes: cubic Hermite pieces. */
export class Curve {
  #times = new Float64Array(1024);
  #values = new Float64Array(1024);
  #slopes = new Float64Array(1024);
  #length = 0;

  /** Number of points. */
  get length(): number {
    return this.#length;
  }

  /** Time of a point, s. */
  time(index: number): number {
    return this.#times[index] ?? Number.NaN;
  }

  /** Value at a point. */
  value(index: number): number {
    return this.#values[index] ?? Number.NaN;
  }

  /**
   * Adds a point.
   *
   * @param time not before the last; the same time again where the slope jumps
   */
  push(time: number, value: number, slope: number): void {
    if (this.#length === this.#times.length) {
      const grown = (column: Float64Array) => {
        const copy = new Float64Array(2 * column.length);
        copy.set(column);
        return copy;
      };
      this.#times = grown(this.#times);
      this.#values = grown(this.#values);
      this.#slopes = grown(this.#slopes);
    }
    this.#times[this.#length] = time;
    this.#values[this.#length] = value;
    this.#slopes[this.#length] = slope;
    this.#length += 1;
  }

  /** Value between a point and the next at a time. */
  between(index: number, time: number): number {
    const from = this.#times[index] ?? 0;
    const width = (this.#times[index + 1] ?? from) - from;
    const start = this.#values[index] ?? Number.NaN;
    if (!(width > 0)) return start;
    const end = this.#values[index + 1] ?? start;
    const s = (time - from) / width;
    // Horner's form of the Hermite polynomial in the share s of the width.
    const startSlope = width * (this.#slopes[index] ?? 0);
    const endSlope = width * (this.#slopes[index + 1] ?? 0);
    const rise = end - start;
    const square = 3 * rise - 2 * startSlope - endSlope;
    const cube = startSlope + endSlope - 2 * rise;
    return start + s * (startSlope + s * (square + s * cube));
  }

  /**
   * Values at (start + i/rate) for i = 0 … count - 1; times beyond the ends get the end's value.
   *
   * @param start s
   * @param rate Hz
   */
  sample(start: number, rate: number, count: number): Float64Array {
    const samples = new Float64Array(count);
    const last = this.#length - 1;
    let piece = 0;
    for (let i = 0; i < count; i++) {
      const time = Math.min(Math.max(start + i / rate, this.time(0)), this.time(last));
      while (piece + 1 < last && (this.#times[piece + 1] ?? 0) <= time) piece += 1;
      samples[i] = this.between(piece, time);
    }
    return samples;
  }
}
