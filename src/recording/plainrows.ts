import type { TableStyle } from './dialect.ts';

/** Exact powers of ten: every one up to 10^9 is a whole number of 32 bits. */
const powers = Float64Array.from({ length: 10 }, (_, i) => 10 ** i);
/** More digits on one side of the mark do not surely fit into 32 bits. */
const mostDigits = 9;
/** A whole number of as many digits is below 2^53. */
const mostOfBoth = 15;

/** A decimal digit in ASCII differs from this by its value, and every other byte by more than nine. */
const zero = 48;
const space = 32 ^ zero;
const minus = 45 ^ zero;
const plus = 43 ^ zero;
const carriageReturn = 13 ^ zero;
const quote = 34 ^ zero;
const nul = 0 ^ zero;

/** Rows at a time: what was read of them stays near the processor until it is summed up. */
export const rowsAtOnce = 4096;

/** How plain rows are written, and what is read of them. */
export interface PlainForm {
  readonly style: Pick<TableStyle, 'fields' | 'delimiter' | 'decimal'>;
  readonly lineEnd: number;
  /** Columns to read, counted from 0, rising. */
  readonly columns: readonly number[];
}

/**
 * Reads the plainest rows, many at a time: numbers with a sign or none, digits and one decimal mark, and whatever stands
 * in columns that nobody needs. It stops before the first row that is anything else.
 */
export class PlainRows {
  /** Numbers that are read of a row. */
  readonly width: number;
  /** What was read latest, row by row. */
  readonly cells: Float64Array;
  /** How many rows that were. */
  count = 0;
  /** Place in the bytes behind them. */
  next = 0;
  /** For each column of the file, whether it is read. */
  readonly #read: Uint8Array;
  readonly #delimiter: number;
  readonly #decimal: number;
  readonly #lineEnd: number;

  constructor({ style, lineEnd, columns }: PlainForm) {
    this.#read = Uint8Array.from({ length: style.fields }, (_, column) => (columns.includes(column) ? 1 : 0));
    this.width = columns.length;
    this.cells = new Float64Array(rowsAtOnce * columns.length);
    this.#delimiter = (style.delimiter === 'space' ? 32 : style.delimiter.charCodeAt(0)) ^ zero;
    this.#decimal = style.decimal.charCodeAt(0) ^ zero;
    this.#lineEnd = lineEnd ^ zero;
  }

  /**
   * Reads rows as long as they are plain.
   *
   * @param bytes whole lines, up to `to` at least
   * @param start of the first row
   * @param to no row is begun from here on
   */
  take(bytes: Uint8Array, start: number, to: number): void {
    const read = this.#read;
    const cells = this.cells;
    const delimiter = this.#delimiter;
    const decimal = this.#decimal;
    const lineEnd = this.#lineEnd;
    const last = read.length - 1;
    const most = cells.length;
    let i = start;
    let next = start;
    let field = 0;
    let at = 0;
    let whole = 0;
    // Every byte is looked at by what it differs from a zero by: one comparison tells a digit from all else.
    while (at < most && i < to) {
      let d = (bytes[i] ?? 0) ^ zero;
      while (d === space) d = (bytes[++i] ?? 0) ^ zero;
      if (read[field] === 1) {
        const negative = d === minus;
        if (negative || d === plus) d = (bytes[++i] ?? 0) ^ zero;
        let first = i;
        let front = 0;
        while (d < 10) {
          front = (Math.imul(front, 10) + d) | 0;
          d = (bytes[++i] ?? 0) ^ zero;
        }
        let digits = i - first;
        let value = front;
        if (digits > mostDigits) break;
        if (d === decimal) {
          let behind = 0;
          first = ++i;
          d = (bytes[i] ?? 0) ^ zero;
          while (d < 10) {
            behind = (Math.imul(behind, 10) + d) | 0;
            d = (bytes[++i] ?? 0) ^ zero;
          }
          const decimals = i - first;
          digits += decimals;
          if (decimals > mostDigits || digits > mostOfBoth) break;
          // A whole number below 2^53 over a power of ten up to 10^22: the quotient is the nearest double
          // (Clinger, 1990: How to read floating point numbers accurately).
          const scale = powers[decimals] ?? 1;
          value = (front * scale + behind) / scale;
        }
        if (digits === 0) break;
        // A minus zero is a zero: not every file of tables keeps its sign.
        cells[at++] = negative ? 0 - value : value;
        if (delimiter !== space) while (d === space) d = (bytes[++i] ?? 0) ^ zero;
      } else {
        while (d !== delimiter && d !== lineEnd && d !== carriageReturn) {
          if (d === quote || d === nul) break;
          d = (bytes[++i] ?? 0) ^ zero;
        }
      }
      if (field < last) {
        if (d !== delimiter) break;
        i++;
        field++;
        continue;
      }
      if (d !== lineEnd) {
        if (d !== carriageReturn) break;
        d = (bytes[++i] ?? 0) ^ zero;
        if (d !== lineEnd) break;
      }
      next = ++i;
      whole = at;
      field = 0;
    }
    this.count = whole / this.width;
    this.next = next;
  }

  /**
   * Takes over what another one read.
   *
   * @param cells of whole rows, at most 4096 of them
   * @param count how many rows that are
   * @param next place in the bytes behind them
   */
  adopt(cells: Float64Array, count: number, next: number): void {
    this.cells.set(cells);
    this.count = count;
    this.next = next;
  }
}
