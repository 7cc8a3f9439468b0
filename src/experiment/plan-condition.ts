import { responseTime } from '../decay/index.ts';
import type { Prediction } from '../prediction/index.ts';
import { recordingSize, resolutionInKelvin, usefulRate } from './advice.ts';
import type { Condition } from './conditions.ts';
import { designUncertainty, type ExpectedNoise, fitStart } from './design-uncertainty.ts';
import { entryOf } from './entry.ts';
import { heatingTime } from './heating-time.ts';
import { asRecorded, plannedChain } from './plan-chain.ts';
import type { ExpectedTimeConstant, PlannedCondition } from './plan-types.ts';
import type { Experiment } from './schema-keys.ts';

/** What one condition is planned from. */
export interface PlanBasis {
  readonly experiment: Experiment;
  readonly condition: Condition;
  readonly prediction: Prediction;
  readonly measured: ExpectedTimeConstant | null;
  /** By the rig's own correlation. */
  readonly rig: ExpectedTimeConstant | null;
  /** Time constant that stands for that of heating, s. */
  readonly heatingTimeConstant: number;
  readonly noise: ExpectedNoise;
}

/** The usual relative uncertainty of a quartz clock (common practice, no source). */
const timeBase = 5e-5;
const freezing = 273.15;

/** Times, uncertainty and settings of one condition; a message where the file makes them impossible. */
export function planCondition(basis: PlanBasis): PlannedCondition | string {
  const { experiment, condition, prediction, measured, rig, noise } = basis;
  const { protocol } = experiment;
  const body = entryOf(experiment.bodies, condition.body);
  const wanted = body?.target ?? protocol.target;
  const limit = body?.limit ?? protocol.limit;
  const ambient = prediction.air.temperature - freezing;
  if (wanted === undefined) return 'No target temperature is stated.';
  // What holds the junction in the body may not bear more.
  const target = Math.min(wanted, limit ?? wanted);
  if (!(target > ambient)) return `A target of ${target} °C is not above the air that the body cools in.`;
  const heating = heatingTime({
    time: body?.heating?.time,
    timeConstant: body?.heating?.['time-constant'],
    stream: experiment.heating.stream,
    ambient,
    target,
    coolingTimeConstant: basis.heatingTimeConstant,
  });
  if (heating.value === null) return heating.reason;
  const predicted = expected(prediction.timeConstant);
  const used = measured ?? surerOf(rig, predicted);
  const step = target - ambient;
  const end = protocol['end-fraction'];
  const cooling = used.value * responseTime(1 - end);
  const before = protocol.baseline + heating.value;
  const recorded = before + cooling;
  const chainNonlinearity = plannedChain(experiment, ambient, target).nonlinearity;
  const rate = experiment.logger?.rate ?? usefulRate(used.value, noise, experiment.mains);
  return {
    condition,
    predicted,
    measured,
    rig,
    timeConstant: { ...used, source: measured !== null ? 'measured' : used === rig ? 'rig' : 'theory' },
    step,
    heating,
    trial: {
      baseline: protocol.baseline,
      heating: heating.value,
      cooling,
      settling: used.value * Math.max(0, Math.log((end * step) / protocol['ambient-offset'])),
    },
    recorded,
    recordedAtMost: before + used.interval[1] * responseTime(1 - end),
    trialTime: recorded + experiment.session['change-over'],
    design: designUncertainty({
      timeConstant: used.value,
      step,
      from: fitStart(end),
      to: end,
      rate,
      noise,
      resolution: resolutionInKelvin(asRecorded(experiment), ambient) ?? 0,
      ambientOffset: protocol['ambient-offset'],
      drift: protocol.drift,
      baseline: protocol.baseline,
      heating: heating.value,
      timeBase,
      nonlinearity: chainNonlinearity,
    }),
    chainNonlinearity,
    rate: usefulRate(used.value, noise, experiment.mains),
    fileSize: recordingSize(rate, recorded),
  };
}

/** What the rig shows, where its interval is narrower than that of theory. */
function surerOf(rig: ExpectedTimeConstant | null, theory: ExpectedTimeConstant): ExpectedTimeConstant {
  const width = ({ interval: [low, high] }: ExpectedTimeConstant) => high / low;
  return rig !== null && width(rig) < width(theory) ? rig : theory;
}

function expected({ value, standardUncertainty, interval }: ExpectedTimeConstant): ExpectedTimeConstant {
  return { value, standardUncertainty, interval };
}
