import { type Experiment, entryOf } from '../experiment/index.ts';
import type { Remark } from '../remark/index.ts';
import { rigKind } from './kinds.ts';
import { standingsOfTrial } from './standing.ts';
import type { RigCheck } from './types.ts';

/** What a recording is of, as far as it is known. */
export interface TrialOfRig {
  readonly bench: string | null;
  readonly group: string | null;
  readonly body: string | null;
  readonly flow: string | null;
  /** When it began, ms since 1970 (UTC). */
  readonly began: number;
}

/** A trial's bench: its own, or that of its group. */
export function benchOfTrial(
  { groups }: Experiment,
  { bench, group }: Pick<TrialOfRig, 'bench' | 'group'>,
): string | null {
  return bench ?? (group === null ? null : (entryOf(groups, group)?.bench ?? null));
}

/**
 * What the checks of its rig say of a trial: those that had failed when it was made and were not mended, as cautions,
 * and those that were too old by then, as notes. Nothing about checks that nobody ever made. The time constant is not
 * changed.
 *
 * @param checks those that count
 */
export function rigRemarks(experiment: Experiment, checks: readonly RigCheck[], trial: TrialOfRig): Remark[] {
  if (checks.length === 0 || !Number.isFinite(trial.began)) return [];
  const { body, flow, began } = trial;
  const bench = benchOfTrial(experiment, trial);
  const standings = standingsOfTrial(experiment, checks, { bench, body, flow }, began);
  const trouble = standings.filter(({ state }) => state === 'outside' || state === 'stale');
  return trouble.map((one) => ({
    code: one.state === 'outside' ? 'rig-check-outside' : 'rig-check-stale',
    severity: one.state === 'outside' ? 'caution' : 'note',
    message: `The rig when this was recorded: ${one.message}`,
    action: one.mend ?? rigKind(one.kind).how,
  }));
}
