import type { Plan } from './plan.ts';
import { QuickClock } from './quickclock.ts';

/** Exact powers of ten: every one up to 10^22 is a double. */
const powers = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));

/** What a column is to the row reader; 0 is a column that is not read, the rest are clocks. */
const number = 1;
const clocks = [null, null, 'date', 'time', 'both'] as const;

/** Reads ordinary rows from bytes, digit by digit, without making text of them. */
export class QuickRow {
  /** The cells of the latest row that were read: numbers, and dates and times of day in seconds. */
  readonly cells: Float64Array;
  /** For each column up to the last one needed, what it is. */
  readonly #roles: Uint8Array;
  readonly #clock: QuickClock;
  readonly #delimiter: number;
  readonly #decimal: number;
  readonly #lineEnd: number;
  readonly #fields: number;

  /**
   * The quick way to read rows; null where the form of the rows or units behind numbers need the careful one.
   *
   * @param values columns of the readings, counted from 0
   */
  static of(plan: Plan, values: readonly number[]): QuickRow | null {
    if (plan.style.form !== 'plain') return null;
    const { cells } = plan.time;
    const numbers = cells.kind === 'number' ? [...values, cells.column] : values;
    if (numbers.some((column) => (plan.columns[column]?.suffix ?? null) !== null)) return null;
    return new QuickRow(plan, numbers);
  }

  /**
   * @param plan how the file is written
   * @param numbers columns of numbers to read, counted from 0
   */
  private constructor(plan: Plan, numbers: readonly number[]) {
    const { delimiter, decimal, fields } = plan.style;
    const { cells } = plan.time;
    const date = cells.kind === 'clock' ? (cells.date ?? -1) : -1;
    const time = cells.kind === 'clock' ? (cells.time ?? -1) : -1;
    this.#roles = new Uint8Array(Math.max(...numbers, date, time) + 1);
    for (const column of numbers) this.#roles[column] = number;
    if (date >= 0) this.#roles[date] = time < 0 ? clocks.indexOf('both') : clocks.indexOf('date');
    if (time >= 0) this.#roles[time] = clocks.indexOf('time');
    this.cells = new Float64Array(this.#roles.length);
    this.#clock =
      cells.kind === 'clock' ? new QuickClock(cells.order, cells.firstDay) : new QuickClock('ymd', 0);
    this.#delimiter = delimiter === 'space' ? 32 : delimiter.charCodeAt(0);
    this.#decimal = decimal.charCodeAt(0);
    this.#lineEnd = plan.lineEnd;
    this.#fields = fields;
  }

  /**
   * Reads one row of plain numbers.
   *
   * @returns where the next row begins, or -1 if the line is not that plain; nothing has happened then
   */
  read(bytes: Uint8Array, start: number): number {
    const delimiter = this.#delimiter;
    const decimal = this.#decimal;
    const roles = this.#roles;
    const cells = this.cells;
    const lineEnd = this.#lineEnd;
    const last = roles.length - 1;
    let i = start;
    let c = bytes[i] ?? 0;
    let field = 0;
    while (true) {
      while (c === 32) c = bytes[++i] ?? 0;
      const role = roles[field];
      if (role === number) {
        let negative = false;
        if (c === 45 || c === 43) {
          negative = c === 45;
          c = bytes[++i] ?? 0;
        }
        let mantissa = 0;
        let digits = 0;
        const first = i;
        let d = c - 48;
        while (d >= 0 && d <= 9) {
          mantissa = mantissa * 10 + d;
          c = bytes[++i] ?? 0;
          d = c - 48;
        }
        digits = i - first;
        let exponent = 0;
        if (c === decimal) {
          const point = ++i;
          c = bytes[i] ?? 0;
          d = c - 48;
          while (d >= 0 && d <= 9) {
            mantissa = mantissa * 10 + d;
            c = bytes[++i] ?? 0;
            d = c - 48;
          }
          exponent = point - i;
          digits -= exponent;
        }
        if (digits === 0) return -1;
        if (c === 69 || c === 101) {
          c = bytes[++i] ?? 0;
          const down = c === 45;
          if (down || c === 43) c = bytes[++i] ?? 0;
          let e = 0;
          const firstOfExponent = i;
          d = c - 48;
          while (d >= 0 && d <= 9) {
            e = e * 10 + d;
            c = bytes[++i] ?? 0;
            d = c - 48;
          }
          const length = i - firstOfExponent;
          if (length === 0 || length > 3) return -1;
          exponent += down ? -e : e;
        }
        // A whole number below 2^53 and a power of ten up to 10^22 are exact, so one division or product of
        // them is correctly rounded (Clinger, 1990: How to read floating point numbers accurately).
        if (digits > 15 || exponent > 22 || exponent < -22) return -1;
        const size =
          exponent < 0
            ? mantissa / (powers[-exponent] ?? 1)
            : exponent === 0
              ? mantissa
              : mantissa * (powers[exponent] ?? 1);
        cells[field] = negative ? 0 - size : size;
        while (c === 32 && delimiter !== 32) c = bytes[++i] ?? 0;
      } else if (role !== 0) {
        i = this.#clock.read(bytes, i, delimiter, clocks[role ?? 0] ?? 'both');
        if (i < 0) return -1;
        cells[field] = this.#clock.value;
        c = bytes[i] ?? 0;
        while (c === 32 && delimiter !== 32) c = bytes[++i] ?? 0;
      } else {
        while (c !== delimiter && c !== lineEnd && c !== 13) {
          if (c === 34 || c === 0) return -1;
          c = bytes[++i] ?? 0;
        }
      }
      if (field === last) break;
      if (c !== delimiter) return -1;
      c = bytes[++i] ?? 0;
      field++;
    }
    return this.#rest(bytes, i, field);
  }

  /** Goes behind the end of the row, if it is as long as the others. */
  #rest(bytes: Uint8Array, start: number, lastField: number): number {
    const delimiter = this.#delimiter;
    const lineEnd = this.#lineEnd;
    let i = start;
    let field = lastField;
    let c = bytes[i] ?? 0;
    if (c !== lineEnd) {
      if (c !== delimiter && c !== 13) return -1;
      while (c !== lineEnd) {
        if (c === delimiter) {
          // A run of spaces is one delimiter, and spaces at the end are none.
          const next = delimiter === 32 ? (bytes[i + 1] ?? 0) : 0;
          if (next !== 32 && next !== lineEnd && next !== 13) field++;
        } else if (c === 13) {
          if (bytes[i + 1] !== lineEnd) return -1;
        } else if (c === 34 || c === 0) return -1;
        c = bytes[++i] ?? 0;
      }
    }
    // Missing and surplus cells are judged the careful way.
    if (field !== this.#fields - 1) return -1;
    return i + 1;
  }
}
