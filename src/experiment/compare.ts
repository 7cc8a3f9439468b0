import { cutoffProduct, responseTime } from '../decay/index.ts';
import type { Prediction } from '../prediction/index.ts';
import { type Agreement, agreement, logCoverageInterval } from '../quantity/index.ts';
import type { Remark } from '../remark/index.ts';
import { heatTransferFrom, type MeasuredHeatTransfer } from './back-calculation.ts';
import type { PooledTimeConstant } from './compare-pool.ts';
import { type RateAgreement, rateAgreement } from './compare-rate.ts';
import type { Condition } from './conditions.ts';
import { entryOf } from './entry.ts';
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

/** A measured time constant beside the predicted one: judged by the rates 1/tau. */
export interface TimeConstantComparison extends RateAgreement {
  /** Measured over predicted. */
  readonly ratio: number;
  /** Measured less predicted, s. */
  readonly difference: number;
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
 * Compares a measured time constant with a predicted one. The verdict is that of the rates, as the interval of a
 * prediction is symmetric in 1/tau. It has three values, for agreement within ±30 % proves little.
 *
 * @param measured s; its interval is symmetric in the logarithm, as that of pooled runs
 * @param predicted s
 * @param practical relative difference that would matter, > 0
 */
export function compareCondition(
  measured: MeasuredValue,
  predicted: ExpectedTimeConstant,
  practical = 0.1,
): TimeConstantComparison {
  const { value, standardUncertainty, degreesOfFreedom = Number.POSITIVE_INFINITY } = measured;
  const interval = logCoverageInterval(value, standardUncertainty / value, degreesOfFreedom);
  return {
    ...rateAgreement({ value, interval }, predicted, practical),
    ratio: value / predicted.value,
    difference: value - predicted.value,
    plain: agreement(
      { value, standardUncertainty, degreesOfFreedom },
      { value: predicted.value, standardUncertainty: predicted.standardUncertainty },
      { practical, names: ['the measured time constant', 'the predicted one'], unit: 's' },
    ),
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
 * @param practical relative difference of tau that would matter, > 0
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
