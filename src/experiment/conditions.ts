import type { Experiment } from './schema-keys.ts';

/** A body in a flow, by their codes. */
export interface Condition {
  readonly body: string;
  readonly flow: string;
}

/** A condition that is not measured, and why. */
export interface LeftOutCondition extends Condition {
  readonly why: string;
}

/** Every condition of an experiment, bodies first, in the order of the file. */
export function conditionsOf(experiment: Experiment): {
  readonly measured: readonly Condition[];
  readonly leftOut: readonly LeftOutCondition[];
} {
  const measured: Condition[] = [];
  const leftOut: LeftOutCondition[] = [];
  for (const body of Object.keys(experiment.bodies)) {
    for (const flow of Object.keys(experiment.flows)) {
      const rule = experiment.conditions['left-out'].find((one) => {
        return (one.body ?? body) === body && (one.flow ?? flow) === flow;
      });
      if (rule === undefined) measured.push({ body, flow });
      else leftOut.push({ body, flow, why: rule.why });
    }
  }
  return { measured, leftOut };
}

/** A condition in a few words: `brass-12 at 120`. */
export function conditionName({ body, flow }: Condition): string {
  return `${body} at ${flow}`;
}
