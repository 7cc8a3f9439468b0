import type { BenchTrial } from './bench-types.ts';
import type { Layout, TimeStyle } from './dialect-types.ts';
import type { Column } from './write-column.ts';
import { timeDecimals } from './write-decimals.ts';

type Clock = Extract<TimeStyle, { kind: 'clock' }>;

const hour = 3600;
const day = 86_400;

/** Share of the recording before midnight, or before the clock is put back. */
const shareBefore = 1 / 3;

/**
 * What the logger's clock shows when the recording begins, s since 1970 in local time.
 *
 * @throws RangeError where the trial's start is no date and time
 */
export function clockStart(trial: BenchTrial, time: TimeStyle): number {
  const { startedAt } = trial.logger;
  const start = Math.floor(Date.parse(`${startedAt}Z`) / 1e3);
  if (Number.isNaN(start)) {
    throw new RangeError(
      `"${startedAt}" is no start of a recording: give it as 2026-03-09T10:12:31, without a zone.`,
    );
  }
  if (time.kind !== 'clock' || time.oddity !== 'midnight') return start;
  const midnight = (Math.floor(start / day) + 1) * day;
  return midnight - Math.max(1, Math.round(shareBefore * trial.length));
}

/** `2026-03-09` and `10:12:31`. */
export function clockTexts(seconds: number): { date: string; time: string } {
  const iso = new Date(seconds * 1e3).toISOString();
  return { date: iso.slice(0, 10), time: iso.slice(11, 19) };
}

/** How stamps look: text of a whole second, then decimals of it. */
interface Stamp {
  text(seconds: number): string;
  readonly decimals: number;
}

const joinedStamp = (seconds: number): string => {
  const { date, time } = clockTexts(seconds);
  return `${date} ${time}`;
};
const timeStamp = (seconds: number): string => clockTexts(seconds).time;
const reversedDate = (seconds: number): string => clockTexts(seconds).date.split('-').reverse().join('.');

/** How a spreadsheet shows stamps: date and time to the minute, a fraction of a second behind minutes only. */
const resavedStamps = {
  joined: {
    text: (seconds: number) => `${reversedDate(seconds)} ${timeStamp(seconds).slice(0, 5)}`,
    decimals: 0,
  },
  apart: { text: timeStamp, decimals: 0 },
  whole: { text: timeStamp, decimals: 0 },
  fine: { text: (seconds: number) => timeStamp(seconds).slice(3), decimals: 1 },
} as const;

function stampOf(trial: BenchTrial, time: Clock): Stamp {
  const decimals = time.fine ? Math.max(1, timeDecimals(trial.logger.rate, 1)) : 0;
  if (!trial.logger.resaved) return { text: time.date === 'joined' ? joinedStamp : timeStamp, decimals };
  if (time.date !== 'none') return resavedStamps[time.date];
  return time.fine ? resavedStamps.fine : resavedStamps.whole;
}

/** The same, but that a second's text is made once for all of its rows. */
function remembered(text: (seconds: number) => string): (seconds: number) => string {
  let last = Number.NaN;
  let made = '';
  return (seconds) => {
    if (seconds !== last) {
      last = seconds;
      made = text(seconds);
    }
    return made;
  };
}

/** The column, or the pair of columns, in which a clock is written. */
export function clockColumns(trial: BenchTrial, layout: Layout, time: Clock): readonly Column[] {
  const { rate, resaved } = trial.logger;
  const start = clockStart(trial, time);
  const putBackFrom =
    time.oddity === 'put-back' ? shareBefore * trial.length * rate : Number.POSITIVE_INFINITY;
  const shift = (row: number) => (row >= putBackFrom ? -hour : 0);
  const label = { name: layout.timeName, unit: null, comment: 'by the clock of the logger' };
  const stamp = stampOf(trial, time);
  const mark = layout.decimal.charCodeAt(0);
  const perSecond = 10 ** stamp.decimals;
  // A clock that shows whole seconds has not reached the next one; finer stamps are rounded.
  const ticksAt = (row: number) =>
    time.fine && stamp.decimals > 0
      ? Math.round((row * perSecond) / rate)
      : Math.floor((row * perSecond) / rate + 1e-6);
  const text = remembered(stamp.text);
  const moment: Column = {
    label,
    write: (sink, row) => {
      const ticks = ticksAt(row);
      const second = Math.floor(ticks / perSecond);
      sink.ascii(text(start + second + shift(row)));
      if (stamp.decimals === 0) return;
      sink.byte(mark);
      sink.whole(ticks - second * perSecond, stamp.decimals);
    },
  };
  if (time.date !== 'apart') return [moment];
  const dateText = remembered(resaved ? reversedDate : (seconds) => clockTexts(seconds).date);
  const date: Column = {
    label: { ...label, name: 'Date' },
    write: (sink, row) => {
      sink.ascii(dateText(start + Math.floor(ticksAt(row) / perSecond) + shift(row)));
    },
  };
  return [date, moment];
}
