import { recordsVoltage } from './plan-chain.ts';
import type { PlannedCondition } from './plan-types.ts';
import type { Experiment } from './schema-keys.ts';
import type { SessionFrame, TimedCondition } from './timeline.ts';

/** Drift that still does not matter, as a part of the step (common practice, no source). */
const driftLimit = 0.01;

/** What the session of an experiment file has time for. */
export function sessionFrame(experiment: Experiment, conditions: readonly PlannedCondition[]): SessionFrame {
  const { session, sensor, protocol } = experiment;
  const step = Math.min(...conditions.map((one) => one.step), Number.POSITIVE_INFINITY);
  return {
    length: session.length ?? null,
    setUp: session['set-up'],
    // A voltage can be zeroed; degrees come as they are.
    zeroing: recordsVoltage(experiment) ? session.zeroing : null,
    changeOver: session['change-over'],
    iceBath: sensor.junction === 'ice' ? session['ice-bath'] : null,
    reserve: session.reserve,
    repeats: protocol.repeats,
    zeroEvery: protocol.drift > 0 ? (driftLimit * step) / protocol.drift : Number.POSITIVE_INFINITY,
  };
}

/** The same conditions with other choices. */
export interface Choices {
  readonly endFraction?: number;
  /** Time constants at the upper ends of their intervals. */
  readonly slow?: boolean;
  /** Without heating. */
  readonly noHeating?: boolean;
  /** Bodies return to ambient in the flow that cools them quickest. */
  readonly strongFlow?: boolean;
  /** While a body returns to ambient, the next is measured. */
  readonly rotate?: boolean;
}

/** The times of all conditions under other choices. */
export function timesWith(
  experiment: Experiment,
  conditions: readonly PlannedCondition[],
  choices: Choices,
): TimedCondition[] {
  const { protocol } = experiment;
  const end = choices.endFraction ?? protocol['end-fraction'];
  const quickest = new Map<string, number>();
  for (const { condition, timeConstant } of conditions) {
    const before = quickest.get(condition.body) ?? Number.POSITIVE_INFINITY;
    quickest.set(condition.body, Math.min(before, timeConstant.value));
  }
  return conditions.map((one) => {
    const tau = choices.slow ? one.timeConstant.interval[1] : one.timeConstant.value;
    const settlingTau = choices.strongFlow ? Math.min(quickest.get(one.condition.body) ?? tau, tau) : tau;
    const left = Math.max(0, Math.log((end * one.step) / protocol['ambient-offset']));
    const settling = settlingTau * left;
    return {
      condition: one.condition,
      trial: {
        baseline: one.trial.baseline,
        heating: choices.noHeating ? 0 : one.trial.heating,
        cooling: tau * Math.log(1 / end),
        settling: choices.rotate ? Math.min(settling, experiment.session['change-over']) : settling,
      },
    };
  });
}
