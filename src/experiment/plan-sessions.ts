import type { Condition } from './conditions.ts';
import { type SessionFrame, type TimedCondition, timeLine } from './timeline.ts';

/** Conditions shared out over sessions of the same length, each with its own set-up, zeroing and reserve. */
export interface Sessions {
  /** In run order; a condition that does not fit into one is taken up by the next. */
  readonly held: readonly (readonly Condition[])[];
  /** Those that do not fit into a session even alone. */
  readonly tooLong: readonly Condition[];
}

/** Shares conditions out over sessions, each filled in run order before the next is begun. */
export function sessionsOf(conditions: readonly TimedCondition[], frame: SessionFrame): Sessions {
  const held: (readonly Condition[])[] = [];
  let left = conditions;
  while (left.length > 0) {
    const { fitting } = timeLine(left, frame);
    if (fitting.length === 0) break;
    held.push(fitting);
    const taken = new Set(fitting);
    left = left.filter(({ condition }) => !taken.has(condition));
  }
  return { held, tooLong: left.map(({ condition }) => condition) };
}
