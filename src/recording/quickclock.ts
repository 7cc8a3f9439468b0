import { calendarDay, type DateOrder } from './clock.ts';

/**
 * Reads the commonest spellings of dates and times of day from bytes: digits alone, a year of four digits,
 * hours, minutes and seconds. What it reads is what `parseClock` reads; the rest it leaves.
 */
export class QuickClock {
  readonly #order: DateOrder;
  readonly #firstDay: number;
  /** Seconds since the midnight before the first row; of a time of day alone, since midnight. */
  value = 0;
  #at = 0;
  // The date of the row before, which is nearly always that of the row.
  #year = -1;
  #month = -1;
  #day = -1;
  #days = 0;

  constructor(order: DateOrder, firstDay: number) {
    this.#order = order;
    this.#firstDay = firstDay;
  }

  /**
   * @param holds what the cell should hold; one that holds more or less is left to the careful way
   * @returns place of the first byte behind the cell, or -1 where it is not as plain as that
   */
  read(bytes: Uint8Array, start: number, delimiter: number, holds: 'date' | 'time' | 'both'): number {
    this.#at = start;
    const first = this.#digits(bytes);
    const mark = bytes[this.#at] ?? 0;
    if (mark === 58) return holds === 'time' ? this.#time(bytes, first, start, delimiter, 0) : -1;
    if (holds === 'time') return -1;
    if (mark !== 45 && mark !== 46 && mark !== 47) return -1;
    const firstLength = this.#at - start;
    this.#at++;
    const secondStart = this.#at;
    const second = this.#digits(bytes);
    const secondLength = this.#at - secondStart;
    if (secondLength < 1 || secondLength > 2 || bytes[this.#at] !== mark) return -1;
    const thirdStart = ++this.#at;
    const third = this.#digits(bytes);
    const seconds = this.#date(first, firstLength, second, third, this.#at - thirdStart);
    if (Number.isNaN(seconds)) return -1;
    const c = bytes[this.#at] ?? 0;
    if (holds === 'date') {
      this.value = seconds;
      return c === delimiter || c === 10 || c === 13 ? this.#at : -1;
    }
    if (c !== 84 && (c !== 32 || delimiter === 32)) return -1;
    const timeStart = ++this.#at;
    return this.#time(bytes, this.#digits(bytes), timeStart, delimiter, seconds);
  }

  #digits(bytes: Uint8Array): number {
    let x = 0;
    let d = (bytes[this.#at] ?? 0) - 48;
    while (d >= 0 && d <= 9) {
      x = 10 * x + d;
      d = (bytes[++this.#at] ?? 0) - 48;
    }
    return x;
  }

  /** Seconds of a date; not-a-number where it is not plain. */
  #date(first: number, firstLength: number, second: number, third: number, thirdLength: number): number {
    const yearFirst = firstLength === 4 && (thirdLength === 1 || thirdLength === 2);
    const yearLast = thirdLength === 4 && (firstLength === 1 || firstLength === 2);
    if (!yearFirst && !yearLast) return Number.NaN;
    const monthFirst = yearLast && this.#order === 'mdy';
    const year = yearFirst ? first : third;
    const month = monthFirst ? first : second;
    const day = yearFirst ? third : monthFirst ? second : first;
    if (day !== this.#day || month !== this.#month || year !== this.#year) {
      const days = calendarDay(year, month, day);
      if (days === null) return Number.NaN;
      this.#days = days;
      this.#day = day;
      this.#month = month;
      this.#year = year;
    }
    return (this.#days - this.#firstDay) * 86400;
  }

  /** The rest of a time of day, from behind its hours. */
  #time(bytes: Uint8Array, hours: number, start: number, delimiter: number, before: number): number {
    const hoursLength = this.#at - start;
    if (hoursLength < 1 || hoursLength > 4 || bytes[this.#at] !== 58) return -1;
    const minutesStart = ++this.#at;
    const minutes = this.#digits(bytes);
    const minutesLength = this.#at - minutesStart;
    if (minutesLength < 1 || minutesLength > 2 || minutes > 59 || bytes[this.#at] !== 58) return -1;
    const secondsStart = ++this.#at;
    let seconds = this.#digits(bytes);
    const secondsLength = this.#at - secondsStart;
    if (secondsLength < 1 || secondsLength > 2 || seconds > 60) return -1;
    let c = bytes[this.#at] ?? 0;
    if ((c === 46 || c === 44) && c !== delimiter) {
      const fractionStart = ++this.#at;
      const fraction = this.#digits(bytes);
      const length = this.#at - fractionStart;
      if (length < 1 || length > 9) return -1;
      // Both are whole and below 2^53, so their quotient is the nearest double.
      const scale = 10 ** length;
      seconds = (seconds * scale + fraction) / scale;
      c = bytes[this.#at] ?? 0;
    }
    // A zone, or the half of the day, is read the careful way.
    if (c !== delimiter && c !== 10 && c !== 13 && !(c === 32 && this.#ends(bytes, delimiter))) return -1;
    this.value = before + (hours * 3600 + minutes * 60 + seconds);
    return this.#at;
  }

  /** Whether nothing but spaces comes before the next cell. */
  #ends(bytes: Uint8Array, delimiter: number): boolean {
    let i = this.#at;
    let c = bytes[i] ?? 0;
    while (c === 32) c = bytes[++i] ?? 0;
    return delimiter === 32 || c === delimiter || c === 10 || c === 13;
  }
}
