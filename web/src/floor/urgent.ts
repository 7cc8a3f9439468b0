import type { CallView } from '../../../src/server/contract/index.ts';

/** From here on a trial is lost, or will be, if nobody comes. */
const urgentFrom = 55;

export function isUrgent({ urgency }: CallView): boolean {
  return urgency >= urgentFrom;
}

/** So many are read at a glance; with more, those that can wait would push the tiles out of sight. */
const glance = 4;

/** Calls to show at once, all that are urgent among them, and those that can wait; in their order. */
export function shownCalls(calls: readonly CallView[]): {
  readonly first: readonly CallView[];
  readonly rest: readonly CallView[];
} {
  const urgent = calls.filter(isUrgent).length;
  // One alone takes no more room than the word that it is there.
  const most = calls.length === glance + 1 ? calls.length : Math.max(glance, urgent);
  return { first: calls.slice(0, most), rest: calls.slice(most) };
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
