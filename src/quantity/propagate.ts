import { coverageFactor, type Interval, usualCoverage } from './coverage.ts';
import { sensitivitiesTo } from './propagate-sensitivity.ts';
import {
  type Correlation,
  checkInputs,
  degreesOfFreedomOf,
  type Input,
  type Model,
  type ModelOfMany,
} from './uncertain.ts';
import {
  type CorrelationStructure,
  choleskyFactor,
  correlationMatrix,
  correlationStructure,
  type Matrix,
} from './uncertain-correlation.ts';

/** One line of an uncertainty budget. */
export interface InputContribution {
  readonly input: string;
  readonly value: number;
  readonly unit: string;
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** ∂y/∂x at the estimates, in the unit of the output over that of the input. */
  readonly sensitivity: number;
  /** |∂y/∂x| u(x), in the unit of the output: what the input alone would give. */
  readonly contribution: number;
  /** Part of the variance of the output, without what correlations add or take. */
  readonly share: number;
}

/** What the correlation of two inputs adds to the variance of the output, or takes from it. */
export interface CorrelatedContribution {
  readonly inputs: readonly [string, string];
  readonly coefficient: number;
  /** Part of the variance of the output; negative where the two make up for each other. */
  readonly share: number;
}

/** An output with its first-order uncertainty. */
export interface Propagated {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Effective degrees of freedom. */
  readonly degreesOfFreedom: number;
  readonly coverage: number;
  readonly coverageFactor: number;
  readonly expandedUncertainty: number;
  readonly interval: Interval;
  /** One line for each input, in their order. */
  readonly budget: readonly InputContribution[];
  /** One line for each correlated pair; with the shares of the budget these add up to 1. */
  readonly correlated: readonly CorrelatedContribution[];
}

/** Several outputs of one model. */
export interface PropagatedMany {
  readonly outputs: readonly Propagated[];
  /** Covariances of the outputs, by rows. */
  readonly covariance: Matrix;
  /** Correlation coefficients of the outputs, by rows; 0 beside an output without uncertainty. */
  readonly correlation: Matrix;
}

/** How an uncertainty is propagated. */
export interface PropagationOptions {
  readonly correlations?: readonly Correlation[];
  /** Probability of the interval, between 0 and 1. Default 0.95. */
  readonly coverage?: number;
  /** Sensitivity of the output to each input where they are known; by differences otherwise. */
  readonly sensitivities?: readonly number[];
}

/** How the uncertainty of several outputs is propagated. */
export interface PropagationOfManyOptions {
  readonly correlations?: readonly Correlation[];
  /** Probability of the intervals, between 0 and 1. Default 0.95. */
  readonly coverage?: number;
  /** For each output its sensitivity to each input where they are known; by differences otherwise. */
  readonly sensitivities?: Matrix;
}

/**
 * Law of propagation of uncertainty to first order (JCGM 100:2008, eq. 13 and 16), with the budget, effective
 * degrees of freedom (eq. G.2b) and a coverage interval from Student's t.
 *
 * The Welch-Satterthwaite formula is for independent contributions. Inputs that are linked by correlations
 * therefore enter it together, with the variance that they give together and the fewest degrees of freedom among
 * them: exact where they come from the same set of repeated readings (JCGM 100:2008, H.2), cautious otherwise
 * (common practice, no source).
 *
 * A model that is not finite at the estimates, or has no derivative there, gives NaN.
 *
 * @param model output from the values of the inputs
 * @param inputs in the order in which the model takes them
 * @throws RangeError for inputs, correlations or options that cannot be used
 */
export function propagate<const Inputs extends readonly Input[]>(
  model: Model<Inputs>,
  inputs: Inputs,
  options?: PropagationOptions,
): Propagated;
export function propagate(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
  options: PropagationOptions = {},
): Propagated {
  const { sensitivities, ...rest } = options;
  const given = sensitivities === undefined ? rest : { ...rest, sensitivities: [sensitivities] };
  const { values, jacobian, structure, coverage } = prepared((x) => [model(x)], inputs, given);
  return propagated(values[0] ?? Number.NaN, jacobian[0] ?? [], inputs, structure, coverage);
}

/**
 * The same for a model with several outputs, with their covariances (JCGM 100:2008, H.2.3, eq. H.9; JCGM 102:2011,
 * 6.2).
 *
 * @param model outputs from the values of the inputs, always as many
 * @param inputs in the order in which the model takes them
 * @throws RangeError for inputs, correlations or options that cannot be used
 */
export function propagateMany<const Inputs extends readonly Input[]>(
  model: ModelOfMany<Inputs>,
  inputs: Inputs,
  options?: PropagationOfManyOptions,
): PropagatedMany;
export function propagateMany(
  model: (values: readonly number[]) => readonly number[],
  inputs: readonly Input[],
  options: PropagationOfManyOptions = {},
): PropagatedMany {
  const { values, jacobian, structure, coverage } = prepared(model, inputs, options);
  const outputs = values.map((value, k) => propagated(value, jacobian[k] ?? [], inputs, structure, coverage));
  const spreads = jacobian.map((row) => independentParts(signedContributions(row, inputs), structure));
  const covariance = spreads.map((a) => spreads.map((b) => product(a, b)));
  const correlation = covariance.map((row, i) =>
    row.map((value, j) => {
      const scale = Math.sqrt(product(spreads[i] ?? [], spreads[i] ?? []) * (covariance[j]?.[j] ?? 0));
      return scale === 0 ? (i === j ? 1 : 0) : Math.min(Math.max(value / scale, -1), 1);
    }),
  );
  return { outputs, covariance, correlation };
}

function prepared(
  model: (values: readonly number[]) => readonly number[],
  inputs: readonly Input[],
  options: PropagationOfManyOptions,
) {
  const { correlations = [], coverage = usualCoverage, sensitivities } = options;
  checkInputs(inputs);
  if (!(coverage > 0 && coverage < 1)) {
    throw new RangeError(`The coverage is ${coverage}: give a probability between 0 and 1.`);
  }
  const structure = correlationStructure(inputs, correlations);
  const estimates = inputs.map((input) => input.value);
  const values = [...model(estimates)];
  if (sensitivities !== undefined) {
    if (sensitivities.length !== values.length || sensitivities.some((row) => row.length !== inputs.length)) {
      throw new RangeError(
        `The sensitivities do not fit: give ${inputs.length} for each of ${values.length} outputs.`,
      );
    }
    return { values, jacobian: sensitivities, structure, coverage };
  }
  const columns = inputs.map((input, place) => sensitivitiesTo(model, estimates, values, input, place));
  const jacobian = values.map((_, output) => columns.map((column) => column[output] ?? Number.NaN));
  return { values, jacobian, structure, coverage };
}

/** An input without uncertainty contributes nothing, even where the model has no derivative. */
function signedContributions(sensitivities: readonly number[], inputs: readonly Input[]): number[] {
  return inputs.map((input, i) =>
    input.standardUncertainty === 0 ? 0 : (sensitivities[i] ?? Number.NaN) * input.standardUncertainty,
  );
}

/**
 * Contributions of independent standard normals that are as spread and correlated as the inputs: Lᵀ of the
 * contributions. The sum of squares is the variance of eq. 16, without the cancellation that eq. 16 has near
 * coefficients of ±1.
 */
function independentParts(signed: readonly number[], structure: CorrelationStructure): number[] {
  const parts = [...signed];
  for (const group of structure.groups) {
    if (group.length === 1) continue;
    const factor = choleskyFactor(correlationMatrix(structure, group));
    for (const [column, place] of group.entries()) {
      parts[place] = group.reduce(
        (sum, row, i) => sum + (factor[i]?.[column] ?? 0) * (signed[row] ?? Number.NaN),
        0,
      );
    }
  }
  return parts;
}

function product(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + x * (b[i] ?? Number.NaN), 0);
}

/** Contributions that cancel to less than this part of their size cancel altogether: differences round so. */
const roundingShare = 1e-10;

function propagated(
  value: number,
  sensitivities: readonly number[],
  inputs: readonly Input[],
  structure: CorrelationStructure,
  coverage: number,
): Propagated {
  const signed = signedContributions(sensitivities, inputs);
  const parts = independentParts(signed, structure);
  const summed = Math.hypot(...parts);
  const u = summed <= roundingShare * Math.hypot(...signed) ? 0 : summed;
  const shareOf = (a: number, b: number) => (u === 0 ? 0 : (a / u) * (b / u));
  const budget = inputs.map((input, i): InputContribution => {
    const own = signed[i] ?? Number.NaN;
    return {
      input: input.name,
      value: input.value,
      unit: input.unit,
      standardUncertainty: input.standardUncertainty,
      degreesOfFreedom: degreesOfFreedomOf(input),
      sensitivity: sensitivities[i] ?? Number.NaN,
      contribution: Math.abs(own),
      share: shareOf(own, own),
    };
  });
  const correlated = structure.pairs.map(({ places: [a, b], coefficient }): CorrelatedContribution => {
    const share = 2 * coefficient * shareOf(signed[a] ?? Number.NaN, signed[b] ?? Number.NaN);
    return { inputs: [inputs[a]?.name ?? '', inputs[b]?.name ?? ''], coefficient, share };
  });
  const nu = effectiveDegreesOfFreedom(u, signed, parts, inputs, structure);
  const factor = coverageFactor(nu, coverage);
  const expanded = factor * u;
  return {
    value,
    standardUncertainty: u,
    degreesOfFreedom: nu,
    coverage,
    coverageFactor: factor,
    expandedUncertainty: expanded,
    interval: [value - expanded, value + expanded],
    budget,
    correlated,
  };
}

/** Welch-Satterthwaite (JCGM 100:2008, eq. G.2b), with each set of correlated inputs as one contribution. */
function effectiveDegreesOfFreedom(
  u: number,
  signed: readonly number[],
  parts: readonly number[],
  inputs: readonly Input[],
  structure: CorrelationStructure,
): number {
  if (u === 0) return Number.POSITIVE_INFINITY;
  let sum = 0;
  for (const group of structure.groups) {
    const share = group.reduce((total, place) => total + ((parts[place] ?? Number.NaN) / u) ** 2, 0);
    const contributing = inputs.filter((_, place) => group.includes(place) && signed[place] !== 0);
    sum += share ** 2 / Math.min(...contributing.map(degreesOfFreedomOf));
  }
  return 1 / sum;
}
