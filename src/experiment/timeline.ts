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
  const stretches: Stretch[] = [];
  const bounded = layOut(conditions, frame, limit, (one) => stretches.push(one));
  const taken = new Set(bounded.taken);
  return {
    stretches: [...stretches, ...reserveOf(bounded.end, frame)],
    fitting: bounded.taken,
    notFitting: conditions.map(({ condition }) => condition).filter((one) => !taken.has(one)),
    end: bounded.end,
    needed: timeNeeded(conditions, frame),
  };
}

/** What all conditions would take, with set-up and reserve, s. */
export function timeNeeded(conditions: readonly TimedCondition[], frame: SessionFrame): number {
  return layOut(conditions, frame, Number.POSITIVE_INFINITY, null).end + frame.reserve;
}

interface LaidOut {
  readonly taken: readonly Condition[];
  readonly end: number;
}

/** @param record takes each stretch; null where only the end is wanted */
function layOut(
  conditions: readonly TimedCondition[],
  frame: SessionFrame,
  limit: number,
  record: ((stretch: Stretch) => void) | null,
): LaidOut {
  const taken: Condition[] = [];
  const push = (kind: StretchKind, from: number, length: number): number => {
    if (length > 0) record?.({ kind, from, to: from + length, condition: null, repeat: null });
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
    const length = trialsLength(one.trial, frame);
    const change = before === null ? 0 : changeBetween(before, one, frame.changeOver);
    const drifted = now + change + length - zeroed > frame.zeroEvery;
    const zero = frame.zeroing !== null && before !== null && drifted ? frame.zeroing : 0;
    if (now + change + zero + length > limit) continue;
    const changing = Math.min(change, frame.changeOver);
    now = push('change-over', now, changing);
    now = push('settling', now, change - changing);
    if (zero > 0) {
      now = push('zeroing', now, zero);
      zeroed = now;
    }
    if (record !== null) recordTrials(one, frame, now, record);
    now += length;
    const zeroings = zeroingsWithin(one.trial, frame);
    if (zeroings.count > 0) zeroed = now - zeroings.since;
    taken.push(one.condition);
    before = one;
  }
  return { taken, end: now };
}

/** The same body has to return to ambient while the flow is changed. */
function changeBetween(before: TimedCondition, next: TimedCondition, changeOver: number): number {
  const sameBody = before.condition.body === next.condition.body;
  return sameBody ? Math.max(changeOver, before.trial.settling) : changeOver;
}

/** A body returns to ambient between its trials, not behind the last. */
function trialsLength(trial: TrialTimes, frame: SessionFrame): number {
  const { repeats } = frame;
  const zeroing = zeroingsWithin(trial, frame).count * (frame.zeroing ?? 0);
  return repeats * recordedLength(trial) + (repeats - 1) * trial.settling + zeroing;
}

function recordedLength({ baseline, heating, cooling }: TrialTimes): number {
  return baseline + heating + cooling;
}

/**
 * How often the drift calls for zeroing between the repeats of a condition: before each so many of them. Every `each`
 * repeats together, with the waits between, stay below the time after which the amplifier is zeroed again.
 */
function zeroingsWithin(trial: TrialTimes, { zeroing, zeroEvery, repeats }: SessionFrame) {
  const recorded = recordedLength(trial);
  const round = recorded + trial.settling;
  const whole = repeats * recorded + (repeats - 1) * trial.settling;
  if (zeroing === null || whole <= zeroEvery || !Number.isFinite(whole))
    return { each: repeats, count: 0, since: 0 };
  const each = Math.max(1, Math.floor((zeroEvery + trial.settling) / round));
  const count = Math.ceil(repeats / each) - 1;
  const last = repeats - count * each;
  return { each, count, since: last * recorded + (last - 1) * trial.settling };
}

function recordTrials(
  { condition, trial }: TimedCondition,
  frame: SessionFrame,
  start: number,
  record: (stretch: Stretch) => void,
): void {
  const { repeats, zeroing } = frame;
  const { each } = zeroingsWithin(trial, frame);
  let now = start;
  for (let repeat = 1; repeat <= repeats; repeat += 1) {
    if (zeroing !== null && zeroing > 0 && repeat > 1 && (repeat - 1) % each === 0) {
      record({ kind: 'zeroing', from: now, to: now + zeroing, condition: null, repeat: null });
      now += zeroing;
    }
    for (const kind of ['baseline', 'heating', 'cooling', 'settling'] as const) {
      if (trial[kind] <= 0 || (kind === 'settling' && repeat === repeats)) continue;
      record({ kind, from: now, to: now + trial[kind], condition, repeat });
      now += trial[kind];
    }
  }
}

/** Idle time below this is not worth a line, s. */
const leastSpare = 60;

function reserveOf(end: number, { length, reserve }: SessionFrame): readonly Stretch[] {
  const from = length === null ? end : length - reserve;
  const stretches: Stretch[] = [];
  if (from - end >= leastSpare) {
    stretches.push({ kind: 'spare', from: end, to: from, condition: null, repeat: null });
  }
  if (reserve > 0) {
    stretches.push({ kind: 'reserve', from, to: from + reserve, condition: null, repeat: null });
  }
  return stretches;
}
