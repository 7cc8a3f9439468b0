import {
  type Condition,
  conditionName,
  conditionsOf,
  type Experiment,
  planSession,
  predictCondition,
} from '../experiment/index.ts';

/** A condition that a group is to record, without anything that it is to find out. */
export interface OwnCondition extends Condition {
  /** Whether the plan of the session has time for it. */
  readonly fits: boolean;
}

/** Of experiment files that are in use: predictions take a while, and a class asks for the same ones. */
const planned = new WeakMap<Experiment, readonly OwnCondition[]>();

/** The conditions of an experiment in the order of its plan; those for which no time can be planned come last. */
export function ownConditions(experiment: Experiment): readonly OwnCondition[] {
  const known = planned.get(experiment);
  if (known !== undefined) return known;
  const measured = conditionsOf(experiment).measured;
  const predictions = measured.map((one) => predictCondition(experiment, one, 0));
  const plan = planSession(experiment, predictions);
  const late = new Set(plan.timeLine.notFitting.map(conditionName));
  const inOrder = [
    ...plan.conditions.map(({ condition }) => condition),
    ...plan.unplanned.map(({ condition }) => condition),
  ];
  const conditions = inOrder.map(({ body, flow }) => ({
    body,
    flow,
    fits: !late.has(conditionName({ body, flow })),
  }));
  planned.set(experiment, conditions);
  return conditions;
}
