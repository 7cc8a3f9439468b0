import type { Experiment } from '../experiment/index.ts';
import { drawsFor } from './labelled-draws.ts';
import { PracticeError, type PracticeGroup } from './set-types.ts';

/** Sessions begin then where the experiment file says nothing. */
const usualStart = '14:00';
const day = 86_400_000;

/** When a group's session is, ms of a local time without zone. */
export interface Session {
  readonly start: number;
  /** Sessions on one day share the air of that day. */
  readonly date: string;
}

/**
 * The sessions of all groups: a day for each section, and a week later where the bench is taken.
 *
 * @param date of the first, as 2026-03-02
 * @throws PracticeError for a date that there is not
 */
export function scheduledSessions(
  experiment: Experiment,
  groups: readonly PracticeGroup[],
  date: string,
): ReadonlyMap<string, Session> {
  const first = /^\d{4}-\d{2}-\d{2}$/.test(date) ? Date.parse(`${date}T00:00:00Z`) : Number.NaN;
  // The engine takes the 31st of February for a day in March.
  if (Number.isNaN(first) || new Date(first).toISOString().slice(0, 10) !== date) {
    throw new PracticeError(`"${date}" is no date: write it as 2026-03-02.`);
  }
  const [hours = 14, minutes = 0] = (experiment.session.start ?? usualStart).split(':').map(Number);
  const sections: string[] = [];
  const taken = new Map<string, number>();
  const sessions = new Map<string, Session>();
  for (const { code, section, bench } of groups) {
    const name = section ?? '';
    if (!sections.includes(name)) sections.push(name);
    const place = JSON.stringify([name, bench]);
    const week = taken.get(place) ?? 0;
    taken.set(place, week + 1);
    const days =
      first + day * ((sections.indexOf(name) % 5) + 7 * (week + Math.floor(sections.indexOf(name) / 5)));
    sessions.set(code, {
      start: days + 60_000 * (60 * hours + minutes),
      date: new Date(days).toISOString().slice(0, 10),
    });
  }
  return sessions;
}

/** A trial's place in the time line of its group. */
interface Timed {
  readonly group: string;
  /** Length of its recording, s. */
  readonly length: number;
}

/**
 * When each recording was started, as 2026-03-02T14:16:40: a group does its trials one after another.
 *
 * @param timed in the order in which they are done
 */
export function startTimes(
  experiment: Experiment,
  sessions: ReadonlyMap<string, Session>,
  timed: readonly Timed[],
  seed: string,
): string[] {
  const { 'set-up': setUp, 'change-over': changeOver } = experiment.session;
  const clocks = new Map<string, number>();
  return timed.map(({ group, length }, i) => {
    const draws = drawsFor(seed, 'start', group, i);
    const begin = (sessions.get(group)?.start ?? 0) + 1000 * setUp * draws.between(0.7, 1.2);
    const start = clocks.get(group) ?? begin;
    const pause = Math.max(30, changeOver) * draws.between(0.7, 1.6);
    clocks.set(group, start + 1000 * (length + pause));
    return new Date(Math.round(start / 1000) * 1000).toISOString().slice(0, 19);
  });
}
