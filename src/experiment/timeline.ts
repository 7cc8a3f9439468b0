import type { Condition } from './conditions.ts';
import type { Stretch, StretchKind, TimeLine, TrialTimes } from './plan-types.ts';

/** One condition as the time line needs it. */
export interface TimedCondition {
  readonly condition: Condition;
  readonly trial: TrialTimes;
}

/** What a session has time for. Times in s. */
export interface SessionFrame {
  /** Null for as long as it takes. */
  readonly length: number | null;
  readonly setUp: number;
  /** Null where nothing needs zeroing. */
  readonly zeroing: number | null;
  readonly changeOver: number;
  /** How long before use the ice bath is made; null without one. */
  readonly iceBath: number | null;
  readonly reserve: number;
  readonly repeats: number;
  /** After so long the amplifier is zeroed again; Infinity for never. */
  readonly zeroEvery: number;
}

/**
 * A session as a time line, on one bench. A condition is taken if it ends before the reserve begins; one that does not
 * fit leaves its time to those behind it. Between trials of one body stands the time in which it returns to ambient;
 * the next body is at ambient already.
 */
export function timeLine(conditions: readonly TimedCondition[], frame: SessionFrame): TimeLine {
  const limit = frame.length === null ? Number.POSITIVE_INFINITY : frame.length - frame.reserve;
  const bounded = layOut(conditions, frame, limit);
  const all = layOut(conditions, frame, Number.POSITIVE_INFINITY);
  return {
    stretches: [...bounded.stretches, ...reserveOf(bounded.end, frame)],
    fitting: bounded.taken,
    notFitting: conditions.map(({ condition }) => condition).filter((one) => !bounded.taken.includes(one)),
    end: bounded.end,
    needed: all.end + frame.reserve,
  };
}

interface LaidOut {
  readonly stretches: readonly Stretch[];
  readonly taken: readonly Condition[];
  readonly end: number;
}

function layOut(conditions: readonly TimedCondition[], frame: SessionFrame, limit: number): LaidOut {
  const stretches: Stretch[] = [];
  const taken: Condition[] = [];
  const push = (kind: StretchKind, from: number, length: number): number => {
    if (length > 0) stretches.push({ kind, from, to: from + length, condition: null, repeat: null });
    return from + length;
  };
  if (frame.iceBath !== null) push('ice-bath', frame.setUp - frame.iceBath, frame.iceBath);
  let now = push('set-up', 0, frame.setUp);
  let zeroed = now;
  if (frame.zeroing !== null) {
    now = push('zeroing', now, frame.zeroing);
    zeroed = now;
  }
  let before: TimedCondition | null = null;
  for (const one of conditions) {
    const trials = trialsOf(one, frame.repeats);
    const length = trials.at(-1)?.to ?? 0;
    const change = before === null ? 0 : changeBetween(before, one, frame.changeOver);
    const drifted = now + change + length - zeroed > frame.zeroEvery;
    const zero = frame.zeroing !== null && before !== null && drifted ? frame.zeroing : 0;
    if (now + change + zero + length > limit) continue;
    now = push('change-over', now, change);
    if (zero > 0) {
      now = push('zeroing', now, zero);
      zeroed = now;
    }
    const start = now;
    for (const part of trials) stretches.push({ ...part, from: start + part.from, to: start + part.to });
    now += length;
    taken.push(one.condition);
    before = one;
  }
  return { stretches, taken, end: now };
}

/** The same body has to return to ambient while the flow is changed. */
function changeBetween(before: TimedCondition, next: TimedCondition, changeOver: number): number {
  const sameBody = before.condition.body === next.condition.body;
  return sameBody ? Math.max(changeOver, before.trial.settling) : changeOver;
}

/** The trials of a condition, s from the first baseline. */
function trialsOf({ condition, trial }: TimedCondition, repeats: number): Stretch[] {
  const stretches: Stretch[] = [];
  let now = 0;
  for (let repeat = 1; repeat <= repeats; repeat += 1) {
    for (const kind of ['baseline', 'heating', 'cooling', 'settling'] as const) {
      if (trial[kind] <= 0 || (kind === 'settling' && repeat === repeats)) continue;
      stretches.push({ kind, from: now, to: now + trial[kind], condition, repeat });
      now += trial[kind];
    }
  }
  return stretches;
}

function reserveOf(end: number, { length, reserve }: SessionFrame): readonly Stretch[] {
  const from = length === null ? end : length - reserve;
  if (!(reserve > 0)) return [];
  return [{ kind: 'reserve', from, to: from + reserve, condition: null, repeat: null }];
}
