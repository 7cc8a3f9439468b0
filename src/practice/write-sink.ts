/** Powers of ten that whole numbers are parted by. */
const powers = [1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9] as const;
/** Most decimals that are written by whole-number arithmetic. */
const mostDecimals = 9;
/** Scaled values from which they are not: products are exact to far better than a unit below it. */
const largestScaled = 2 ** 50;
/** Share of the last decimal around a tie within which a product is too coarse to say which way to round. */
const nearTie = 1e-2;

const zero = 48;
const minus = 45;
const space = 32;

/** Takes the text of rows as bytes of ASCII; a number costs no string. */
export class ByteSink {
  #bytes: Uint8Array;
  #length = 0;

  /** @param capacity bytes; it grows where a row needs more */
  constructor(capacity: number) {
    this.#bytes = new Uint8Array(capacity);
  }

  /** Bytes taken since the last `take`. */
  get length(): number {
    return this.#length;
  }

  /** Hands over what has been taken, and begins anew. */
  take(): Uint8Array {
    const taken = this.#bytes.slice(0, this.#length);
    this.#length = 0;
    return taken;
  }

  byte(value: number): void {
    if (this.#length === this.#bytes.length) this.#grow();
    this.#bytes[this.#length++] = value;
  }

  /** @param text of ASCII characters */
  ascii(text: string): void {
    for (let i = 0; i < text.length; i++) this.byte(text.charCodeAt(i));
  }

  /** A whole number from 0 to 2^53 with at least so many digits. */
  whole(value: number, digits = 1): void {
    let size = digits;
    if (value < 2 ** 31) {
      while (size < 10 && value >= (powers[size] ?? Number.POSITIVE_INFINITY)) size++;
      this.#digits(value, size);
    } else {
      const low = value % 1e9;
      this.whole((value - low) / 1e9, Math.max(1, size - 9));
      this.#digits(low, 9);
    }
  }

  /**
   * A number with fixed decimals, the same as `toFixed` writes it.
   *
   * @param value finite
   * @param decimals 0 to 100
   * @param mark byte of the decimal mark
   */
  fixed(value: number, decimals: number, mark: number): void {
    const power = decimals <= mostDecimals ? (powers[decimals] ?? Number.NaN) : Number.NaN;
    const scaled = Math.abs(value) * power;
    const rounded = Math.floor(scaled + 0.5);
    // The product is rounded, too: close to a tie, the slow way decides.
    const clear = scaled < largestScaled && Math.abs(scaled - Math.floor(scaled) - 0.5) > nearTie;
    if (!clear) {
      this.ascii(value.toFixed(decimals).replace('.', String.fromCharCode(mark)));
      return;
    }
    if (value < 0) this.byte(minus);
    const whole = Math.floor(rounded / power);
    this.whole(whole);
    if (decimals === 0) return;
    this.byte(mark);
    this.#digits(rounded - whole * power, decimals);
  }

  /** Fills what was taken since a length with spaces on its left, up to a width. */
  padStart(since: number, width: number): void {
    const missing = width - (this.#length - since);
    if (missing <= 0) return;
    while (this.#length + missing > this.#bytes.length) this.#grow();
    this.#bytes.copyWithin(since + missing, since, this.#length);
    this.#bytes.fill(space, since, since + missing);
    this.#length += missing;
  }

  #digits(value: number, size: number): void {
    while (this.#length + size > this.#bytes.length) this.#grow();
    const bytes = this.#bytes;
    let rest = value | 0;
    for (let at = this.#length + size - 1; at >= this.#length; at--) {
      const tens = (rest / 10) | 0;
      bytes[at] = zero + rest - 10 * tens;
      rest = tens;
    }
    this.#length += size;
  }

  #grow(): void {
    const larger = new Uint8Array(2 * this.#bytes.length + 64);
    larger.set(this.#bytes);
    this.#bytes = larger;
  }
}
