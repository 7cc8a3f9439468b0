import {
  type InputContribution,
  type Interval,
  propagate,
  propagateMonteCarlo,
  usualCoverage,
  type Validation,
  validate,
} from '../quantity/index.ts';
import type { Remark } from '../remark/index.ts';
import { evaluateChain } from './chain.ts';
import type { PredictionInput } from './input.ts';
import { parameterRow, placeInRow, setFromRow, type VariedParameters } from './parameter-row.ts';
import { predictTimeConstant, type TimeConstantPrediction } from './predict-time-constant.ts';
import { remark } from './sentence.ts';
import { type PreparedChain, prepareChain } from './setup.ts';
import {
  type CorrelationAccuracy,
  type ParameterName,
  type PredictionUncertainties,
  uncertainInputs,
  usualCorrelationAccuracy,
} from './uncertainties.ts';

/** How a prediction is made uncertain. */
export interface PredictOptions {
  readonly uncertainties?: PredictionUncertainties;
  /** Probability of the interval, between 0 and 1. Default 0.95. */
  readonly coverage?: number;
  /** Default ±30 % with k = 2. */
  readonly correlationAccuracy?: CorrelationAccuracy;
  /** Draws of the Monte Carlo check, 0 for none. Default 100 000. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
}

/** A time constant with what it is worth. */
export interface UncertainTimeConstant {
  /** s. */
  readonly value: number;
  /** To first order, s. */
  readonly standardUncertainty: number;
  /**
   * Symmetric in the rate 1/tau, which goes with the heat transfer coefficient, so longer upwards in tau: ±30 % in the
   * coefficient is -23 % and +43 %. The upper end is Infinity where the rate may be zero.
   */
  readonly interval: Interval;
  readonly coverage: number;
}

/** The same from draws of all inputs. */
export interface MonteCarloCheck {
  readonly median: number;
  readonly interval: Interval;
  readonly draws: number;
  readonly seed: number;
  /** Whether the first order holds, judged on the rate 1/tau to one significant figure of its uncertainty. */
  readonly agreement: Validation;
}

/** A prediction with its uncertainty, interval and budget. */
export interface Prediction extends Omit<TimeConstantPrediction, 'timeConstant'> {
  readonly timeConstant: UncertainTimeConstant;
  /** Largest share first. Sensitivities and contributions are those of the time constant, in s. */
  readonly budget: readonly InputContribution[];
  /** Null where no draws were asked for. */
  readonly monteCarlo: MonteCarloCheck | null;
}

/** Cooling rate 1/tau, 1/s, from values of the named parameters, in their order. */
function rateModel(
  { parameters, setup, fraction }: PreparedChain,
  names: readonly ParameterName[],
): (values: readonly number[]) => number {
  const varied: VariedParameters = { ...parameters };
  const row = parameterRow(parameters);
  const places = Uint8Array.from(names, placeInRow);
  return (values) => {
    for (let i = 0; i < places.length; i += 1) row[places[i] as number] = values[i] as number;
    setFromRow(row, varied);
    return 1 / evaluateChain(varied, setup, fraction).timeConstant;
  };
}

/** The interval of tau from that of the rate. */
function inverted([low, high]: Interval): Interval {
  return [1 / high, low > 0 ? 1 / low : Number.POSITIVE_INFINITY];
}

/**
 * Predicts the time constant of a body with its uncertainty: first order (JCGM 100:2008) with a budget, checked by
 * Monte Carlo (JCGM 101:2008). Inputs that enter in several places, such as the diameter in area, volume and Reynolds
 * number, are one input, so their correlation is right by construction.
 *
 * @param input SI, temperatures in K
 * @param options uncertainties, coverage, accuracy of the correlation, draws
 * @throws PredictionInputError that names the input no physics can be done with
 * @throws RangeError for uncertainties or options that cannot be used
 */
export function predict(input: PredictionInput, options: PredictOptions = {}): Prediction {
  const {
    uncertainties = {},
    coverage = usualCoverage,
    correlationAccuracy = usualCorrelationAccuracy,
    draws = 100_000,
    seed = 1,
  } = options;
  const expected = predictTimeConstant(input);
  const prepared = prepareChain(input);
  const inputs = uncertainInputs(prepared, uncertainties, correlationAccuracy);
  const rate = propagate(
    rateModel(
      prepared,
      inputs.map((one) => one.name),
    ),
    inputs,
    { coverage },
  );
  const tau = expected.timeConstant;
  const interval = inverted(rate.interval);

  const drawn = inputs.filter((one) => one.standardUncertainty > 0);
  const check =
    draws === 0 || drawn.length === 0
      ? null
      : propagateMonteCarlo(
          rateModel(
            prepared,
            drawn.map((one) => one.name),
          ),
          drawn,
          {
            draws,
            seed,
            coverage,
          },
        );
  const monteCarlo: MonteCarloCheck | null = check && {
    median: 1 / check.median,
    interval: inverted(check.interval),
    draws: check.draws,
    seed: check.seed,
    agreement: validate(rate, check, 1),
  };
  return {
    ...expected,
    timeConstant: {
      value: tau,
      standardUncertainty: tau * tau * rate.standardUncertainty,
      interval,
      coverage,
    },
    // d tau = -tau² d(rate): the shares are the same.
    budget: rate.budget
      .map((line) => ({
        ...line,
        sensitivity: -tau * tau * line.sensitivity,
        contribution: tau * tau * line.contribution,
      }))
      .sort((a, b) => b.share - a.share),
    monteCarlo,
    remarks: [...expected.remarks, ...uncertaintyRemarks(interval, monteCarlo)],
  };
}

function uncertaintyRemarks(interval: Interval, check: MonteCarloCheck | null): readonly Remark[] {
  const remarks: Remark[] = [];
  if (interval[1] === Number.POSITIVE_INFINITY) {
    remarks.push(
      remark(
        'prediction-wide',
        'caution',
        'The inputs are so uncertain that no upper end of the time constant can be named.',
        'State smaller uncertainties, or a smaller coverage.',
      ),
    );
  }
  if (check?.agreement.verdict === 'disagree') {
    remarks.push(
      remark(
        'prediction-wide',
        'note',
        check.agreement.sentence,
        `Take the interval from the Monte Carlo: ${check.interval.map((end) => `${Number(end.toPrecision(3))} s`).join(' to ')}.`,
      ),
    );
  }
  return remarks;
}
