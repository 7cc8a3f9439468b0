import {
  type Condition,
  type Experiment,
  type PredictedCondition,
  predictCondition,
} from '../experiment/index.ts';

/** By experiment as it was read, and by condition: a list, its comparison and its class ask for the same ones. */
const known = new WeakMap<Experiment, Map<string, PredictedCondition>>();

/** What theory expects of a condition, by the experiment file, without a Monte Carlo run. */
export function expectedOf(experiment: Experiment, { body, flow }: Condition): PredictedCondition {
  const own = known.get(experiment) ?? new Map<string, PredictedCondition>();
  known.set(experiment, own);
  const name = JSON.stringify([body, flow]);
  const expected = own.get(name) ?? predictCondition(experiment, { body, flow }, 0);
  own.set(name, expected);
  return expected;
}
