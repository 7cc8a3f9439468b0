import { conditionName, type Experiment, type PlannedCondition } from '../experiment/index.ts';
import { spokenTime } from '../live/index.ts';
import type { BenchTile, SessionNow } from './types.ts';

/** Before a session that begins at a stated time of day, people are there for so long at most, s. */
const earliest = 1800;
/** A session lasts no longer than this times its length. */
const overrun = 1.5;
/** Length of a session where the experiment file states none, s (common practice, no source). */
export const usualLength = 4 * 3600;

/** What is known of when the session began. */
export interface SessionClock {
  /** Now, ms since 1970 (UTC). */
  readonly now: number;
  /** When its first recording began, by the same clock, ms; null where that is not known. */
  readonly first: number | null;
}

/**
 * The session against its plan: how much of it is over, and which trials still fit on each bench, in the order of the
 * plan, after the one that is being made.
 *
 * @param planned conditions in the order of the plan
 * @param benches as they are now
 */
export function sessionNow(
  experiment: Experiment,
  planned: readonly PlannedCondition[],
  benches: readonly BenchTile[],
  clock: SessionClock,
): SessionNow {
  const { session } = experiment;
  const length = session.length ?? null;
  const began = sessionBegan(experiment, clock);
  const elapsed = began === null ? null : (clock.now - began.at) / 1000;
  const remaining = elapsed === null || length === null ? null : length - elapsed;
  const usable = remaining === null ? null : remaining - session.reserve;
  const left = benches.flatMap((bench) => leftOn(bench, experiment, planned, usable));
  return {
    elapsed,
    length,
    remaining,
    left,
    message: sessionWords({ elapsed, length, remaining, left, from: began?.from ?? null }, benches),
  };
}

/** From a stated time of day if that can be meant, else from the first recording and what stands before it in the plan. */
function sessionBegan({ session }: Experiment, { now, first }: SessionClock) {
  const stated = statedBegin(session.start, now);
  if (stated !== null) {
    const over = (now - stated) / 1000;
    if (over >= -earliest && over <= overrun * (session.length ?? usualLength)) {
      return { at: stated, from: 'stated' as const };
    }
  }
  return first === null ? null : { at: first - session['set-up'] * 1000, from: 'first' as const };
}

/** The stated time of day on the day that it is now, here; null where none is stated. */
function statedBegin(start: string | undefined, now: number): number | null {
  const [hours, minutes] = (start ?? '').split(':').map(Number);
  if (hours === undefined || minutes === undefined) return null;
  const day = new Date(now);
  day.setHours(hours, minutes, 0, 0);
  return Number.isFinite(day.getTime()) ? day.getTime() : null;
}

type Left = SessionNow['left'][number];

/** @param usable time that is left for trials, s; null where it is not known */
function leftOn(
  tile: BenchTile,
  { protocol, session }: Experiment,
  planned: readonly PlannedCondition[],
  usable: number | null,
): Left[] {
  let time = timeOfRunning(tile);
  const left: Left[] = [];
  for (const { condition, trial, recorded } of planned) {
    const name = conditionName(condition);
    const trials = protocol.repeats - doneOf(tile, name) - (isRunning(tile, name) ? 1 : 0);
    if (trials <= 0) continue;
    const needed = session['change-over'] + trials * recorded + (trials - 1) * trial.settling;
    const fits = usable === null || time + needed <= usable;
    // What does not fit leaves its time to those behind it, as in the plan.
    if (fits) time += needed;
    left.push({ bench: tile.bench, condition, trials, fits });
  }
  return left;
}

function doneOf({ trials }: BenchTile, name: string): number {
  return trials.filter(({ condition, verdict }) => {
    const counts = verdict === 'usable' || verdict === 'usable-with-remarks';
    return counts && condition !== null && conditionName(condition) === name;
  }).length;
}

/** Whether the trial that is being made is of a condition, and will count as far as can be told. */
function isRunning({ condition, trial, path, trials }: BenchTile, name: string): boolean {
  if (condition === null || trial === null || conditionName(condition) !== name) return false;
  return trial.advice.action !== 'repeat' && !trials.some((one) => one.path === path);
}

function timeOfRunning({ trial }: BenchTile): number {
  return trial?.forecast?.remaining ?? 0;
}

function sessionWords(
  {
    elapsed,
    length,
    remaining,
    left,
    from,
  }: Omit<SessionNow, 'message'> & { readonly from: 'stated' | 'first' | null },
  benches: readonly BenchTile[],
): string {
  const done = benches.reduce((sum, { trials }) => sum + trials.length, 0);
  const trials = `${done} ${done === 1 ? 'trial is' : 'trials are'} done`;
  if (elapsed === null) return `${capital(trials)}; when the session began is not known.`;
  if (elapsed < 0) return `The session begins in ${spokenTime(-elapsed)}.`;
  const since = from === 'first' ? ', counted from the first recording and the set-up before it' : '';
  if (length === null || remaining === null) {
    return `${spokenTime(elapsed)} are over${since}; ${trials}.`;
  }
  if (remaining <= 0) {
    const missing = trialsIn(left);
    const rest = missing === 0 ? '' : `, ${missing} of the plan ${missing === 1 ? 'is' : 'are'} not`;
    return `The time of the session is over; ${trials}${rest}.`;
  }
  return `${spokenTime(elapsed)} of ${spokenTime(length)} are over${since}; ${trials}. ${leftWords(left)}`;
}

function trialsIn(left: SessionNow['left']): number {
  return left.reduce((sum, { trials }) => sum + trials, 0);
}

/** What of the plan is left, and whether there is time for it. */
function leftWords(left: SessionNow['left']): string {
  const all = trialsIn(left);
  const late = left.filter(({ fits }) => !fits);
  const missing = trialsIn(late);
  if (all === 0) return 'Nothing of the plan is left.';
  if (missing === 0) {
    return all === 1
      ? 'There is time for the one trial that is left.'
      : `There is time for all ${all} trials that are left.`;
  }
  const where = [...new Set(late.map(({ bench }) => bench))];
  // By their number: the sentence is read by a class as well, and the list beside it names them.
  const on = where.length === 1 ? 'one bench' : `${where.length} benches`;
  if (missing === all) {
    return all === 1
      ? `There is no time for the one trial that is left, on ${on}.`
      : `There is no time for any of the ${all} trials that are left, on ${on}.`;
  }
  return `Of ${all} trials that are left there is time for ${all - missing}; for ${missing} there is none, on ${on}.`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
