import { cutoffProduct, responseTime } from '../decay/index.ts';
import type { Prediction } from '../prediction/index.ts';
import { type Agreement, type AgreementVerdict, agreement, logAgreement } from '../quantity/index.ts';
import type { Remark } from '../remark/index.ts';
import { heatTransferFrom, type MeasuredHeatTransfer } from './back-calculation.ts';
import { entryOf } from './codes.ts';
import type { PooledTimeConstant } from './compare-pool.ts';
import type { Condition } from './conditions.ts';
import type { ExpectedTimeConstant } from './plan-types.ts';
import type { PredictedCondition } from './predict-condition.ts';
import type { Experiment } from './schema-keys.ts';

/** Times and frequency that follow from a time constant, as long as one exponential holds. */
export interface ResponseFigures {
  /** Time to 50, 63.2, 90 and 99 % of a step, s. */
  readonly t50: number;
  readonly t63: number;
  readonly t90: number;
  readonly t99: number;
  /** Frequency at which a sinusoidal temperature is damped by √2, Hz. */
  readonly cutoffFrequency: number;
  /** By how long the sensor lags behind a steady ramp, s: a ramp of 1 K/s is shown so many kelvin too low. */
  readonly rampLag: number;
}

/**
 * Response figures of a first-order sensor.
 *
 * @param timeConstant s, > 0
 */
export function responseFigures(timeConstant: number): ResponseFigures {
  return {
    t50: timeConstant * responseTime(0.5),
    t63: timeConstant,
    t90: timeConstant * responseTime(0.9),
    t99: timeConstant * responseTime(0.99),
    cutoffFrequency: cutoffProduct / timeConstant,
    rampLag: timeConstant,
  };
}

/** A measured time constant beside the predicted one. */
export interface TimeConstantComparison {
  /** Measured over predicted. */
  readonly ratio: number;
  /** Measured less predicted, s. */
  readonly difference: number;
  /** On the logarithmic scale, on which the uncertainty of the prediction is even. */
  readonly normalisedError: number;
  readonly verdict: AgreementVerdict;
  /** Smallest differences that would have shown, as parts of the prediction. */
  readonly smallestSeen: Agreement['smallestSeen'];
  readonly sentence: string;
  readonly log: Agreement;
  /** As it is usually calculated, with symmetric uncertainties in s. */
  readonly plain: Agreement;
}

/** What a measurement is compared by. */
export interface MeasuredValue {
  /** s. */
  readonly value: number;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom?: number;
}

/**
 * Compares a measured time constant with a predicted one. The verdict is that of the logarithms: a prediction is known
 * to within a factor. It has three values, for agreement within ±30 % proves little.
 *
 * @param measured s
 * @param predicted s
 * @param practical relative difference that would matter, > 0
 */
export function compareCondition(
  measured: MeasuredValue,
  predicted: ExpectedTimeConstant,
  practical = 0.1,
): TimeConstantComparison {
  const nu = measured.degreesOfFreedom ?? Number.POSITIVE_INFINITY;
  const options = {
    practical,
    names: ['the measured time constant', 'the predicted one'] as const,
    unit: 's',
  };
  const log = logAgreement(
    {
      value: measured.value,
      logStandardUncertainty: measured.standardUncertainty / measured.value,
      degreesOfFreedom: nu,
    },
    {
      value: predicted.value,
      logStandardUncertainty: predicted.standardUncertainty / predicted.value,
    },
    options,
  );
  const plain = agreement(
    { value: measured.value, standardUncertainty: measured.standardUncertainty, degreesOfFreedom: nu },
    { value: predicted.value, standardUncertainty: predicted.standardUncertainty },
    options,
  );
  return {
    ratio: log.ratio,
    difference: log.difference,
    normalisedError: log.normalisedError,
    verdict: log.verdict,
    smallestSeen: log.smallestSeen,
    sentence: log.sentence,
    log,
    plain,
  };
}

/** All runs of one condition. */
export interface MeasuredRuns {
  readonly condition: Condition;
  readonly pooled: PooledTimeConstant;
}

/** Everything that a condition's runs say beside theory. */
export interface ConditionComparison {
  readonly condition: Condition;
  readonly measured: PooledTimeConstant;
  /** Null where there is no prediction; `message` then says why. */
  readonly prediction: Prediction | null;
  readonly comparison: TimeConstantComparison | null;
  readonly message: string | null;
  readonly heatTransfer: MeasuredHeatTransfer | null;
  readonly response: ResponseFigures;
  readonly remarks: readonly Remark[];
}

/**
 * Compares every measured condition with its prediction.
 *
 * @param measured pooled runs
 * @param predictions of the same conditions; one that is missing or failed leaves the comparison open
 */
export function compareAll(
  experiment: Experiment,
  measured: readonly MeasuredRuns[],
  predictions: readonly PredictedCondition[],
  practical = 0.1,
): ConditionComparison[] {
  return measured.map(({ condition, pooled }) => {
    const found = predictions.find((one) => {
      return one.condition.body === condition.body && one.condition.flow === condition.flow;
    });
    const base = { condition, measured: pooled, response: responseFigures(pooled.value) };
    if (found === undefined || !found.ok) {
      return {
        ...base,
        prediction: null,
        comparison: null,
        message: found?.message ?? 'No prediction was made.',
        heatTransfer: null,
        remarks: [],
      };
    }
    const { prediction } = found;
    const wire = entryOf(experiment.bodies, condition.body)?.shape === 'wire';
    const heatTransfer = heatTransferFrom(pooled, prediction, wire ? 'wire' : 'sphere');
    return {
      ...base,
      prediction,
      comparison: compareCondition(pooled, prediction.timeConstant, practical),
      message: null,
      heatTransfer,
      remarks: heatTransfer?.remarks ?? [],
    };
  });
}
