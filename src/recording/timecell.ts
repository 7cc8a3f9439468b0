import { type ClockReading, type DateOrder, parseClock } from './clock.ts';
import { type NumberStyle, parseCell } from './number.ts';

/** Where the time of a row is written. Columns are counted from 0. */
export type TimeCells =
  | { readonly kind: 'rows' }
  | {
      readonly kind: 'number';
      readonly column: number;
      /** Unit behind every number, or null. */
      readonly suffix: string | null;
    }
  | {
      readonly kind: 'clock';
      /** Column of the date, also where it holds the time as well; null for a time of day alone. */
      readonly date: number | null;
      /** Column of the time of day; null where it stands with the date. */
      readonly time: number | null;
      readonly order: DateOrder;
      /** Day from which raw times count, days since 1970-01-01. */
      readonly firstDay: number;
    };

/**
 * Raw time of a row: the number as it stands, or seconds since the midnight before the first row.
 *
 * @returns not-a-number where the cells hold no time
 */
export function rawTime(cells: readonly string[], time: TimeCells, style: NumberStyle, row: number): number {
  if (time.kind === 'rows') return row;
  if (time.kind === 'number') {
    const value = parseCell(cells[time.column] ?? '', style, time.suffix);
    return typeof value === 'number' ? value : Number.NaN;
  }
  const moment = clockOf(cells, time);
  if (moment === null || moment.seconds === null) return Number.NaN;
  const day = moment.day === null ? 0 : moment.day - time.firstDay;
  return day * 86400 + moment.seconds - (moment.zone ?? 0);
}

/** Date and time of a row, put together from its one or two cells. */
export function clockOf(
  cells: readonly string[],
  time: { date: number | null; time: number | null; order: DateOrder },
): ClockReading | null {
  const date = time.date === null ? null : parseClock(cells[time.date] ?? '', time.order);
  if (time.date !== null && (date === null || date.day === null)) return null;
  if (time.time === null) return date;
  const clock = parseClock(cells[time.time] ?? '', time.order);
  return clock === null ? null : { ...clock, day: date?.day ?? null };
}
