import type { CallView } from '../../../src/server/contract/index.ts';

/** From here on a trial is lost, or will be, if nobody comes. */
const urgentFrom = 55;

export function isUrgent({ urgency }: CallView): boolean {
  return urgency >= urgentFrom;
}

/** How urgent each bench was. */
export type Urgencies = ReadonlyMap<string, number>;

export function urgenciesOf(calls: readonly CallView[]): Urgencies {
  return new Map(calls.map(({ bench, urgency }) => [bench, urgency]));
}

/** Calls that were not there before, or have become more urgent: their numbers alone are no news. */
export function newCalls(before: Urgencies, calls: readonly CallView[]): CallView[] {
  return calls.filter(({ bench, urgency }) => urgency > (before.get(bench) ?? 0));
}
