import { type Experiment, entryOf } from '../experiment/index.ts';
import type { Remark } from '../remark/index.ts';
import { rigKind } from './kinds.ts';
import { troubleOfTrial } from './standing.ts';
import type { RigCheck, RigStanding } from './types.ts';

/** What a recording is of, as far as it is known. */
export interface TrialOfRig {
  readonly bench: string | null;
  readonly group: string | null;
  readonly body: string | null;
  readonly flow: string | null;
  /** When it began, ms since 1970 (UTC). */
  readonly began: number;
}

/**
 * Checks of a trial's rig that had failed when it began and were not mended, or were too old by then. Nothing about
 * checks that nobody ever made.
 *
 * @param checks those that count
 */
export function rigTrouble(
  experiment: Experiment,
  checks: readonly RigCheck[],
  { bench, group, body, flow, began }: TrialOfRig,
): readonly RigStanding[] {
  if (checks.length === 0 || !Number.isFinite(began)) return [];
  const groupBench = group === null ? undefined : entryOf(experiment.groups, group)?.bench;
  const place = { bench: bench ?? groupBench ?? null, body, flow };
  return troubleOfTrial(experiment, checks, place, began);
}

/**
 * The same as remarks on its recording: what failed as cautions, what was too old as notes. The time constant is not
 * changed.
 */
export function rigRemarks(experiment: Experiment, checks: readonly RigCheck[], trial: TrialOfRig): Remark[] {
  return rigTrouble(experiment, checks, trial).map(({ state, kind, message, mend }) => ({
    code: state === 'outside' ? 'rig-check-outside' : 'rig-check-stale',
    severity: state === 'outside' ? 'caution' : 'note',
    message: `The rig when this was recorded: ${message}`,
    action: mend ?? rigKind(kind).how,
  }));
}
