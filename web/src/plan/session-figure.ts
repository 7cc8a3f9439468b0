/** The plan of a session as its figure takes it. */
import { type Condition, conditionName, type SessionPlan } from '../../../src/experiment/index.ts';
import type { SessionFigureData, SessionStretch } from '../../../src/figure/index.ts';

/**
 * @param start time of day of the first minute, `14:00`; undefined where the file has none
 * @param repeats trials of each condition
 */
export function sessionFigureData(
  { timeLine, conditions, length }: SessionPlan,
  start: string | undefined,
  repeats: number,
): SessionFigureData {
  return {
    stretches: timeLine.stretches.map((one) => ({
      ...one,
      condition: one.condition === null ? null : conditionName(one.condition),
    })),
    length,
    start: startMinute(start),
    notFitting: timeLine.notFitting.map((condition) => ({
      condition: conditionName(condition),
      stretches: trialsOf(condition, conditions, repeats),
    })),
  };
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
