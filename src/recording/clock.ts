/** Order of the parts of a date in a file. */
export type DateOrder = 'ymd' | 'dmy' | 'mdy';

/** A cell that states a date, a time of day, or both. */
export interface ClockReading {
  /** Days since 1970-01-01, or null where the cell has no date. */
  readonly day: number | null;
  /** Seconds since midnight (or since the start, beyond 24 h); null where the cell has no time. */
  readonly seconds: number | null;
  /** Seconds that the stated zone is ahead of UTC; null where none is stated. */
  readonly zone: number | null;
  /** Whether the cell states the hour: `12:34.5` is minutes and seconds. */
  readonly hasHour: boolean;
  /** Seconds that the last place of the time stands for: 60 where it ends with minutes. */
  readonly place: number;
}

const date = String.raw`(\d{1,4})([-./])(\d{1,2}|[A-Za-zäéû]{3,9}\.?)\2(\d{1,4})\.?`;
const time = String.raw`(\d{1,4}):(\d{1,2})(?::(\d{1,2})(?:[.,:](\d{1,9}))?|[.,](\d{1,9}))?\s*([AaPp]\.?[Mm]\.?)?`;
const zone = String.raw`\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})?`;
const dateTime = new RegExp(`^${date}(?:[T_ ,;]\\s*|\\s+)${time}${zone}$`);
const dateOnly = new RegExp(`^${date}$`);
const timeOnly = new RegExp(`^${time}$`);

const months: Readonly<Record<string, number>> = {
  jan: 1,
  feb: 2,
  mar: 3,
  mär: 3,
  mrz: 3,
  apr: 4,
  may: 5,
  mai: 5,
  jun: 6,
  jul: 7,
  aug: 8,
  sep: 9,
  oct: 10,
  okt: 10,
  nov: 11,
  dec: 12,
  dez: 12,
};

/**
 * Reads a date, a time of day or both.
 *
 * @param cell text without spaces around it
 * @param order order of day and month where the year does not come first
 * @returns null where the cell is none of these or names a day or time that does not exist
 */
export function parseClock(cell: string, order: DateOrder): ClockReading | null {
  const c = cell.charCodeAt(0);
  if (!(c >= 48 && c <= 57) || cell.length > 48) return null;
  const both = dateTime.exec(cell);
  if (both !== null) {
    const day = dayNumber(both[1], both[3], both[4], order);
    const clock = timeOfDay(both.slice(5, 11));
    if (day === null || clock === null) return null;
    return { day, ...clock, zone: zoneSeconds(both[11]) };
  }
  const clockOnly = timeOnly.exec(cell);
  if (clockOnly !== null) {
    const clock = timeOfDay(clockOnly.slice(1, 7));
    return clock === null ? null : { day: null, ...clock, zone: null };
  }
  const only = dateOnly.exec(cell);
  if (only === null) return null;
  const day = dayNumber(only[1], only[3], only[4], order);
  return day === null ? null : { day, seconds: null, zone: null, hasHour: false, place: 86400 };
}

function timeOfDay(
  parts: readonly (string | undefined)[],
): (Pick<ClockReading, 'hasHour' | 'place'> & { seconds: number }) | null {
  const [first = '', second = '', third, fraction, shortFraction, half] = parts;
  const a = Number(first);
  const b = Number(second);
  if (third === undefined) {
    // Minutes and seconds if a fraction follows (12:34.5), hours and minutes otherwise.
    if (shortFraction !== undefined) {
      if (b > 59) return null;
      const seconds = Number(`${b}.${shortFraction}`);
      return { seconds: a * 60 + seconds, hasHour: false, place: 10 ** -shortFraction.length };
    }
    const hours = withHalf(a, half);
    return b > 59 || hours === null ? null : { seconds: hours * 3600 + b * 60, hasHour: true, place: 60 };
  }
  const hours = withHalf(a, half);
  if (hours === null || b > 59 || Number(third) > 60) return null;
  const seconds = Number(fraction === undefined ? third : `${third}.${fraction}`);
  return { seconds: hours * 3600 + b * 60 + seconds, hasHour: true, place: 10 ** -(fraction?.length ?? 0) };
}

function withHalf(hours: number, half: string | undefined): number | null {
  if (half === undefined) return hours;
  if (hours < 1 || hours > 12) return null;
  return (hours % 12) + (/^p/i.test(half) ? 12 : 0);
}

function zoneSeconds(text: string | undefined): number | null {
  if (text === undefined) return null;
  const match = /^([+-])(\d{2}):?(\d{2})$/.exec(text);
  if (match === null) return 0;
  const size = Number(match[2]) * 3600 + Number(match[3]) * 60;
  return match[1] === '-' ? -size : size;
}

function dayNumber(a = '', b = '', c = '', order: DateOrder): number | null {
  const word = months[b.slice(0, 3).toLowerCase()];
  const middle = word ?? Number(b);
  const yearFirst = a.length >= 3 || (order === 'ymd' && c.length < 3);
  const year = fullYear(yearFirst ? a : c);
  const monthFirst = !yearFirst && order === 'mdy' && word === undefined;
  const month = monthFirst ? Number(a) : middle;
  const day = yearFirst ? Number(c) : monthFirst ? middle : Number(a);
  return year === null ? null : calendarDay(year, month, day);
}

/**
 * Days since 1970-01-01; null where the calendar has no such day.
 *
 * @param month 1 to 12
 * @param day 1 to 31
 */
export function calendarDay(year: number, month: number, day: number): number | null {
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= 31)) return null;
  const days = Date.UTC(year, month - 1, day) / 86400e3;
  return new Date(days * 86400e3).getUTCMonth() === month - 1 ? days : null;
}

function fullYear(text: string): number | null {
  if (text.length === 4) return Number(text);
  return text.length === 2 || text.length === 1 ? 2000 + Number(text) : null;
}

/**
 * Order of the parts of the dates in a column.
 *
 * @param cells some of its cells
 * @returns the order, and whether another one would fit as well
 */
export function findDateOrder(cells: readonly string[]): { order: DateOrder; ambiguous: boolean } {
  let dayFirst = false;
  let monthFirst = false;
  let yearFirst = false;
  let half = false;
  let points = false;
  let dates = 0;
  for (const cell of cells) {
    const match = /^(\d{1,4})([-./])(\d{1,2}|[A-Za-zäéû]{3,9})\2(\d{1,4})/.exec(cell);
    if (match === null) continue;
    dates++;
    const [, a = '', mark = '', b = ''] = match;
    if (a.length > 2) yearFirst = true;
    if (/[A-Za-z]/.test(b) || Number(a) > 12) dayFirst = true;
    if (Number(b) > 12) monthFirst = true;
    if (mark === '.') points = true;
    if (/[ap]\.?m/i.test(cell)) half = true;
  }
  if (dates === 0 || yearFirst) return { order: 'ymd', ambiguous: false };
  if (points || dayFirst) return { order: 'dmy', ambiguous: false };
  if (monthFirst) return { order: 'mdy', ambiguous: false };
  return { order: half ? 'mdy' : 'dmy', ambiguous: true };
}

/**
 * A moment in ISO 8601, without a zone unless one is given.
 *
 * @param day days since 1970-01-01
 * @param seconds seconds since midnight
 * @param zone seconds ahead of UTC, or null
 */
export function isoMoment(day: number, seconds: number, zone: number | null): string | null {
  // Rounded to a microsecond: a clock's fraction is decimal, its sum of doubles is not.
  const micro = Math.round(seconds * 1e6);
  const moment = new Date(day * 86400e3 + Math.floor(micro / 1e6) * 1e3);
  if (!Number.isFinite(moment.getTime())) return null;
  const fraction =
    micro % 1e6 === 0
      ? ''
      : `.${String(micro % 1e6)
          .padStart(6, '0')
          .replace(/0+$/, '')}`;
  return `${moment.toISOString().slice(0, 19)}${fraction}${zone === null ? '' : zoneText(zone)}`;
}

function zoneText(zone: number): string {
  if (zone === 0) return 'Z';
  const minutes = Math.round(Math.abs(zone) / 60);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${zone < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}
