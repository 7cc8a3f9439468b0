import { writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { type CalendarStart, calendarText, type Experiment, type SessionPlan } from '../experiment/index.ts';
import { OptionError } from './wishes.ts';

/**
 * When the session begins: `2026-03-02 14:00`, or a date alone with the start of the experiment file.
 *
 * @throws OptionError where it is no such moment
 */
export function calendarStart(text: string | undefined, { session }: Experiment): CalendarStart {
  const given = text ?? '';
  const match = /^(\d{4})-(\d\d)-(\d\d)(?:[ T](\d\d):(\d\d))?$/.exec(given.trim());
  const [, year, month, day, hour, minute] = match ?? [];
  const [ownHour, ownMinute] = (session.start ?? '').split(':');
  const start = {
    year: Number(year),
    month: Number(month),
    day: Number(day),
    hour: Number(hour ?? (ownHour === '' ? undefined : ownHour)),
    minute: Number(minute ?? ownMinute),
  };
  if (match === null || !isMoment(start)) {
    const missing = text === undefined ? '--ics needs --start' : `--start ${text}`;
    throw new OptionError(
      `${missing}: write date and time of the first minute, as "2026-03-02 14:00"; the time may be left out where the experiment file has one`,
    );
  }
  return start;
}

function isMoment({ year, month, day, hour, minute }: CalendarStart): boolean {
  const moment = new Date(Date.UTC(year, month - 1, day, hour, minute));
  return (
    moment.getUTCFullYear() === year &&
    moment.getUTCMonth() === month - 1 &&
    moment.getUTCDate() === day &&
    moment.getUTCHours() === hour &&
    moment.getUTCMinutes() === minute &&
    year >= 1900
  );
}

/**
 * Writes the time line as a calendar file.
 *
 * @param source path of the experiment file: two courses of one name may begin at the same time
 */
export async function writeCalendar(
  path: string,
  plan: SessionPlan,
  start: CalendarStart,
  experiment: Experiment,
  source: string,
): Promise<void> {
  const label = { course: experiment.course ?? 'Session', place: resolve(source), written: Date.now() };
  await writeFile(path, calendarText(plan, start, label));
}
