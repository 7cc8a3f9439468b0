/** What an experiment file leads to: predictions and plan, reckoned in the page. */
import {
  checkExperiment,
  conditionName,
  conditionsOf,
  type Experiment,
  type ExperimentRemark,
  experimentSchema,
  type FileFault,
  type MeasuredCondition,
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

/** Time constants that recordings showed, and the predictions of the file that they were recorded by. */
export interface Shown {
  readonly measured: readonly MeasuredCondition[];
  /** What the rig's own correlation expects. */
  readonly rig: readonly MeasuredCondition[];
  readonly predicted: Outcome['predicted'];
}

/**
 * Reads an experiment file, predicts all of its conditions and plans its session.
 *
 * @param shown what the session is planned by in place of theory; null plans by theory
 */
export function reckon(text: string, shown: Shown | null = null): Reckoned {
  const checked = parseChecked(text, experimentSchema);
  if (!checked.ok) return { ok: false, faults: checked.faults };
  const experiment = checked.value;
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  const predicted = new Map(predictions.map((one) => [conditionName(one.condition), one]));
  const by = (values: readonly MeasuredCondition[]) =>
    shown === null ? [] : carriedOver(values, shown.predicted, predicted);
  const outcome: Outcome = {
    experiment,
    predicted,
    plan: planSession(experiment, predictions, {
      measured: by(shown?.measured ?? []),
      rig: by(shown?.rig ?? []),
    }),
    remarks: checkExperiment(experiment),
  };
  return { ok: true, outcome };
}

/** Where a change alters what theory expects of a condition, what was shown of it is altered in the same ratio. */
function carriedOver(
  values: readonly MeasuredCondition[],
  predicted: Outcome['predicted'],
  now: Outcome['predicted'],
): MeasuredCondition[] {
  return values.flatMap((one) => {
    const before = predicted.get(conditionName(one.condition));
    const after = now.get(conditionName(one.condition));
    if (before?.ok !== true || after?.ok !== true) return [];
    const ratio = after.prediction.timeConstant.value / before.prediction.timeConstant.value;
    const { condition, value, standardUncertainty, interval } = one;
    return {
      condition,
      value: ratio * value,
      standardUncertainty: ratio * standardUncertainty,
      interval: [ratio * interval[0], ratio * interval[1]] as const,
    };
  });
}

/** How a session stands, in a sentence; the beginning says what matters. */
export function sessionWords({ timeLine, length, neededAtMost, conditions }: SessionPlan): {
  readonly verdict: string;
  readonly rest: string;
} {
  if (conditions.length === 0)
    return { verdict: 'There is nothing to plan', rest: 'list bodies and flows in the file' };
  const needed = `all conditions need ${minutesUp(timeLine.needed)} by ${basisWords(conditions)}`;
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

/** What the times are made from. */
function basisWords(conditions: SessionPlan['conditions']): string {
  const of = (source: 'measured' | 'rig') =>
    conditions.filter(({ timeConstant }) => timeConstant.source === source).length;
  const byRig = of('rig');
  if (byRig > 0) {
    const rest = conditions.length - byRig;
    return `the rig's own correlation${rest === 0 ? '' : ` for ${byRig} and theory for ${rest}`}`;
  }
  const count = of('measured');
  if (count === 0) return 'the expected time constants';
  if (count === conditions.length) return 'the measured time constants';
  return `the measured time constants of ${count} and the expected ones of ${conditions.length - count}`;
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
