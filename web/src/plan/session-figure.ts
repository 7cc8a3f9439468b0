/** The plan of a session as its figure takes it. */
import { type Condition, conditionName, type SessionPlan } from '../../../src/experiment/index.ts';
import type { SessionFigureData, SessionStretch } from '../../../src/figure/index.ts';

/**
 * @param start time of day of the first minute, `14:00`; undefined where the file has none
 * @param repeats trials of each condition
 * @param minute of the day that it is now; null draws no rule for it
 */
export function sessionFigureData(
  { timeLine, conditions, length }: SessionPlan,
  start: string | undefined,
  repeats: number,
  minute: number | null = null,
): SessionFigureData {
  const first = startMinute(start);
  return {
    stretches: timeLine.stretches.map((one) => ({
      ...one,
      condition: one.condition === null ? null : conditionName(one.condition),
    })),
    length,
    start: first,
    now: nowWithin(minute, first, timeLine.stretches),
    notFitting: timeLine.notFitting.map((condition) => ({
      condition: conditionName(condition),
      stretches: trialsOf(condition, conditions, repeats),
    })),
  };
}

/** Half a day, and a day, min. */
const [halfDay, day] = [720, 1440];

/** Now in s from the first minute, where that falls into the session; a time of day has no date, so that today is meant. */
function nowWithin(
  minute: number | null,
  first: number | null,
  stretches: readonly { readonly from: number; readonly to: number }[],
): number | null {
  if (minute === null || first === null) return null;
  const since = ((((minute - first + halfDay) % day) + day) % day) - halfDay;
  const inside = stretches.some(({ from, to }) => since * 60 >= from && since * 60 <= to);
  return inside ? since * 60 : null;
}

function startMinute(start: string | undefined): number | null {
  if (start === undefined) return null;
  const [hours = 0, rest = 0] = start.split(':').map(Number);
  return 60 * hours + rest;
}

/** The trials of a condition one behind the other, from 0, with the returns to ambient between them. */
function trialsOf(
  condition: Condition,
  planned: SessionPlan['conditions'],
  repeats: number,
): readonly SessionStretch[] {
  const own = planned.find((one) => conditionName(one.condition) === conditionName(condition));
  if (own === undefined) return [];
  const stretches: SessionStretch[] = [];
  let now = 0;
  for (let repeat = 1; repeat <= repeats; repeat += 1) {
    for (const kind of ['baseline', 'heating', 'cooling', 'settling'] as const) {
      const length = own.trial[kind];
      if (length <= 0 || (kind === 'settling' && repeat === repeats)) continue;
      stretches.push({ kind, from: now, to: now + length, condition: conditionName(condition), repeat });
      now += length;
    }
  }
  return stretches;
}
