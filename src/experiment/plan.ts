import type { Prediction } from '../prediction/index.ts';
import type { Remark } from '../remark/index.ts';
import { loggerAdvice } from './advice.ts';
import { checkSafety } from './check-safety.ts';
import { checkTrial } from './check-trial.ts';
import { type Condition, conditionName, conditionsOf } from './conditions.ts';
import { type ExpectedNoise, usualNoise } from './design-uncertainty.ts';
import { entryOf } from './entry.ts';
import { runOrder } from './order.ts';
import { asRecorded, recordsVoltage } from './plan-chain.ts';
import { planCondition } from './plan-condition.ts';
import { sessionFrame, timesWith } from './plan-frame.ts';
import { mendsFor } from './plan-mends.ts';
import type { Advice, ExpectedTimeConstant, PlannedCondition, SessionPlan } from './plan-types.ts';
import type { PredictedCondition } from './predict-condition.ts';
import type { Experiment } from './schema-keys.ts';
import { type SessionFrame, timeLine, timeNeeded } from './timeline.ts';

/** A time constant that earlier recordings showed. */
export interface MeasuredCondition extends ExpectedTimeConstant {
  readonly condition: Condition;
}

/** What a plan may go by in place of theory. */
export interface PlanOptions {
  /** What earlier recordings showed; it replaces theory. */
  readonly measured?: readonly MeasuredCondition[];
  /** What the rig's own correlation expects; it replaces theory where it is surer. */
  readonly rig?: readonly MeasuredCondition[];
  /** Noise that earlier recordings showed. */
  readonly noise?: ExpectedNoise;
}

/**
 * Plans the session of one bench: which time each condition takes, the order, the time line, what does not fit and
 * what would make it fit, the uncertainty to expect, and the settings of the logger. Nothing here reads a clock.
 *
 * @param experiment as read from its file
 * @param predictions of its conditions; those that failed are listed as not planned
 * @param options what earlier recordings showed
 */
export function planSession(
  experiment: Experiment,
  predictions: readonly PredictedCondition[],
  options: PlanOptions = {},
): SessionPlan {
  const { measured = [], rig = [], noise = usualNoise } = options;
  const planned: PlannedCondition[] = [];
  const unplanned: { condition: Condition; message: string }[] = [];
  for (const one of predictions) {
    if (!one.ok) {
      unplanned.push({ condition: one.condition, message: one.message });
      continue;
    }
    const { condition, prediction } = one;
    const result = planCondition({
      experiment,
      condition,
      prediction,
      measured: measuredOf(measured, condition),
      rig: measuredOf(rig, condition),
      heatingTimeConstant: heatingTimeConstant(experiment, condition, prediction, predictions, measured),
      noise,
    });
    if (typeof result === 'string') unplanned.push({ condition, message: result });
    else planned.push(result);
  }
  const conditions = runOrder(planned);
  const frame = sessionFrame(experiment, conditions);
  return {
    conditions,
    leftOut: conditionsOf(experiment).leftOut,
    unplanned,
    timeLine: timeLine(conditions, frame),
    length: frame.length,
    neededAtMost: timeNeeded(timesWith(experiment, conditions, { slow: true }), frame),
    mends: mendsFor({ experiment, conditions, frame, noise }),
    advice: [
      ...adviceFor(experiment, conditions, noise, options.noise !== undefined),
      ...driftAdvice(experiment, frame),
    ],
    noise,
    cautions: cautionsFor(experiment),
  };
}

function measuredOf(
  measured: readonly MeasuredCondition[],
  condition: Condition,
): ExpectedTimeConstant | null {
  const found = measured.find((one) => conditionName(one.condition) === conditionName(condition));
  if (found === undefined || !(found.value > 0 && Number.isFinite(found.value))) return null;
  const { value, standardUncertainty, interval } = found;
  return { value, standardUncertainty, interval };
}

/**
 * Hot air blows as a jet does: the slowest of the body's moving flows stands for it; its own where the body has none.
 */
function heatingTimeConstant(
  experiment: Experiment,
  condition: Condition,
  prediction: Prediction,
  predictions: readonly PredictedCondition[],
  measured: readonly MeasuredCondition[],
): number {
  const moving = predictions.flatMap((one) => {
    if (!one.ok || one.condition.body !== condition.body) return [];
    const flow = entryOf(experiment.flows, one.condition.flow);
    if (flow === undefined || flow.kind === 'still') return [];
    return [measuredOf(measured, one.condition)?.value ?? one.prediction.timeConstant.value];
  });
  return moving.length > 0 ? Math.max(...moving) : prediction.timeConstant.value;
}

function adviceFor(
  experiment: Experiment,
  conditions: readonly PlannedCondition[],
  noise: ExpectedNoise,
  noiseIsMeasured: boolean,
): Advice[] {
  const [first] = conditions;
  if (first === undefined) return [];
  const taus = conditions.map(({ timeConstant }) => timeConstant.value);
  const targets = Object.values(experiment.bodies).map(({ target }) => target);
  const { protocol } = experiment;
  const heights = [protocol.limit, protocol.target, ...targets].filter((height) => height !== undefined);
  const target = first.step;
  const ambient = (experiment.supply ?? experiment.room)?.temperature.value ?? 20;
  return [
    ...loggerAdvice({
      experiment: asRecorded(experiment),
      noise,
      noiseIsMeasured,
      ambient,
      hottest: Math.max(...heights, ambient + target),
      quickest: Math.min(...taus),
      slowest: Math.max(...taus),
      longest: Math.max(...conditions.map(({ recorded }) => recorded)),
      recordings: conditions.length * protocol.repeats,
    }),
    ...settingsAdvice(experiment),
    ...heatingAdvice(conditions),
    {
      about: 'ambient',
      severity: 'note',
      message:
        'Take each baseline with the sensor held in the running jet: expanded supply air is not room air, and the ambient then needs no allowance.',
    },
  ];
}

function settingsAdvice(experiment: Experiment): Advice[] {
  const { sensor, logger } = experiment;
  const resistance = sensor.thermocouple === undefined && sensor.resistance !== undefined;
  if (recordsVoltage(experiment) || resistance || logger?.resolution !== undefined) return [];
  return [
    {
      about: 'range',
      severity: 'note',
      message:
        'The settings that turn the sensor into degrees are not in the file, neither gain nor reference junction: nothing is said of range, resolution and zeroing.',
    },
  ];
}

function heatingAdvice(conditions: readonly PlannedCondition[]): Advice[] {
  const reasons = new Map<string, string[]>();
  for (const { condition, heating } of conditions) {
    if (heating.basis === 'stated') continue;
    reasons.set(heating.reason, [...(reasons.get(heating.reason) ?? []), condition.body]);
  }
  return [...reasons].map(([reason, bodies]) => ({
    about: 'heating',
    severity: 'note',
    message: `${[...new Set(bodies)].slice(0, 4).join(', ')}${new Set(bodies).size > 4 ? ' and others' : ''}: ${reason} State what was seen once you have heated one.`,
  }));
}

function driftAdvice({ protocol }: Experiment, { zeroing, zeroEvery }: SessionFrame): Advice[] {
  if (zeroing === null || !Number.isFinite(zeroEvery)) return [];
  const drift = Number((60 * protocol.drift).toPrecision(2));
  return [
    {
      about: 'drift',
      severity: 'note',
      message: `Zero the amplifier again after ${Number((zeroEvery / 60).toPrecision(2))} min: with ${drift} K/min its zero may then have moved by 1 % of the step.`,
    },
  ];
}

/** What has to be said to those who do what the plan says. */
function cautionsFor(experiment: Experiment): Remark[] {
  const tooHot = checkTrial(experiment).filter(({ code }) => code === 'target-over-limit');
  return [
    ...tooHot.map(({ code, message, action }): Remark => {
      return { code, severity: 'caution', message, action: `${action} The plan heats to the limit only.` };
    }),
    ...checkSafety(experiment).map(({ code, message, action }): Remark => {
      return { code, severity: 'caution', message, action };
    }),
    {
      code: 'heat-safety',
      severity: 'caution',
      message: 'Hot-air tools, amplifiers and loggers run from the mains.',
      action:
        'Look over plugs and cords before the class, keep them dry and off hot metal, use a residual-current device, and unplug what is not in use. Where the rules of your house or country say more, they hold.',
    },
  ];
}
