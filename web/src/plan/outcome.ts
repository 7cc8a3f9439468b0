/** What an experiment file leads to: predictions and plan, reckoned in the page. */
import {
  checkExperiment,
  conditionName,
  conditionsOf,
  type Experiment,
  type ExperimentRemark,
  experimentSchema,
  type FileFault,
  type PredictedCondition,
  parseChecked,
  planSession,
  predictCondition,
  type SessionPlan,
} from '../../../src/experiment/index.ts';

export interface Outcome {
  readonly experiment: Experiment;
  /** By name of the condition, in the order of the file. */
  readonly predicted: ReadonlyMap<string, PredictedCondition>;
  readonly plan: SessionPlan;
  readonly remarks: readonly ExperimentRemark[];
}

export type Reckoned =
  | { readonly ok: true; readonly outcome: Outcome }
  | { readonly ok: false; readonly faults: readonly FileFault[] };

/** Reads an experiment file, predicts all of its conditions and plans its session. */
export function reckon(text: string): Reckoned {
  const checked = parseChecked(text, experimentSchema);
  if (!checked.ok) return { ok: false, faults: checked.faults };
  const experiment = checked.value;
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  const outcome: Outcome = {
    experiment,
    predicted: new Map(predictions.map((one) => [conditionName(one.condition), one])),
    plan: planSession(experiment, predictions),
    remarks: checkExperiment(experiment),
  };
  return { ok: true, outcome };
}

/** How a session stands, in a sentence; the beginning says what matters. */
export function sessionWords({ timeLine, length, neededAtMost, conditions }: SessionPlan): {
  readonly verdict: string;
  readonly rest: string;
} {
  if (conditions.length === 0)
    return { verdict: 'There is nothing to plan', rest: 'list bodies and flows in the file' };
  const needed = `all conditions need ${minutesUp(timeLine.needed)} by the expected time constants`;
  const slow = Number.isFinite(neededAtMost)
    ? `${minutesUp(neededAtMost)} if all lie at the upper end of their intervals`
    : 'without bound if they lie at the upper end of their intervals';
  if (length === null) return { verdict: 'No length is stated', rest: `${needed}, ${slow}` };
  const missing = timeLine.notFitting.length;
  const verdict =
    missing === 0
      ? 'Everything fits'
      : `${missing} of ${conditions.length} conditions ${missing === 1 ? 'does' : 'do'} not fit`;
  return { verdict, rest: `of ${minutes(length)}, ${needed}, ${slow}` };
}

function minutes(seconds: number): string {
  const value = seconds / 60;
  return `${value < 10 ? Number(value.toFixed(1)) : value.toFixed(0)} min`;
}

/** What has to fit is rounded up: rounded down it would seem to. */
export function minutesUp(seconds: number): string {
  const value = seconds / 60;
  return `${value < 10 ? Number((Math.ceil(10 * value - 1e-6) / 10).toFixed(1)) : Math.ceil(value - 1e-6)} min`;
}
