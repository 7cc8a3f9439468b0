import { type RandomStream, randomStream } from './random.ts';
import {
  type Correlation,
  type Distribution,
  degreesOfFreedomOf,
  halfWidthRatio,
  type Input,
} from './uncertain.ts';
import { choleskyFactor, correlationMatrix, correlationStructure } from './uncertain-correlation.ts';

/** Rows that are drawn at a time: small enough to stay in the cache. */
const rowsAtOnce = 1000;

/** Fills a column with draws; whole columns at a time, since a call for each draw would cost more than the draw. */
type Fill = (column: Float64Array, rows: number, random: RandomStream, nu: number) => void;

/** Draws about 0 with standard deviation 1 (for `t`: scale 1). */
const standardFills: Readonly<Record<Distribution, Fill>> = {
  normal: (column, rows, random) => random.fillNormal(column, rows),
  lognormal: (column, rows, random) => random.fillNormal(column, rows),
  rectangular: (column, rows, random) => {
    random.fillUniform(column, rows);
    for (let row = 0; row < rows; row++) {
      column[row] = halfWidthRatio.rectangular * (2 * (column[row] ?? 0) - 1);
    }
  },
  triangular: (column, rows, random) => {
    random.fillUniform(column, rows);
    for (let row = 0; row < rows; row++) {
      column[row] = halfWidthRatio.triangular * ((column[row] ?? 0) + random.uniform() - 1);
    }
  },
  arcsine: (column, rows, random) => {
    random.fillUniform(column, rows);
    for (let row = 0; row < rows; row++) {
      column[row] = halfWidthRatio.arcsine * Math.cos(Math.PI * (column[row] ?? 0));
    }
  },
  t: (column, rows, random, nu) => {
    for (let row = 0; row < rows; row++) column[row] = studentDraw(random, nu);
  },
};

/** Student's t by the polar method of Bailey (1994), for any number of degrees of freedom above 0. */
function studentDraw(random: RandomStream, nu: number): number {
  for (;;) {
    const a = 2 * random.uniform() - 1;
    const b = 2 * random.uniform() - 1;
    const w = a * a + b * b;
    if (w > 0 && w <= 1) return a * Math.sqrt((nu * (w ** (-2 / nu) - 1)) / w);
  }
}

/** Mean and standard deviation of the logarithm of a lognormal input. */
function logMoments(input: Input): { readonly mean: number; readonly deviation: number } {
  const variance = Math.log1p((input.standardUncertainty / input.value) ** 2);
  return { mean: Math.log(input.value) - variance / 2, deviation: Math.sqrt(variance) };
}

/** Fills an array with outputs of a model, each from new draws of its inputs. */
export type OutputDraws = (outputs: Float64Array) => void;

/**
 * Draws inputs from their distributions and puts them through a model (JCGM 101:2008, 7.3 and 7.4).
 *
 * Correlated inputs must be normal or lognormal: they are drawn from a multivariate normal distribution (JCGM
 * 101:2008, 6.4.8) by the Cholesky factor; for lognormal ones the correlation of the logarithms is set such that
 * the values have the coefficient that is given.
 *
 * @param seed any integer
 * @throws RangeError for correlations that cannot be drawn; inputs must have been checked
 */
export function outputDraws(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
  correlations: readonly Correlation[],
  seed: number,
): OutputDraws {
  const random = randomStream(seed);
  const columns = inputs.map(() => new Float64Array(rowsAtOnce));
  const correlate = correlator(inputs, columns, correlations);
  const values = inputs.map((input) => input.value);
  return (outputs) => {
    for (let from = 0; from < outputs.length; from += rowsAtOnce) {
      const rows = Math.min(rowsAtOnce, outputs.length - from);
      for (const [i, column] of columns.entries()) fillStandard(column, rows, inputs[i], random);
      correlate(rows);
      for (const [i, column] of columns.entries()) rescale(column, rows, inputs[i]);
      for (let row = 0; row < rows; row++) {
        for (let i = 0; i < columns.length; i++) values[i] = columns[i]?.[row] ?? Number.NaN;
        outputs[from + row] = model(values);
      }
    }
  };
}

function fillStandard(
  column: Float64Array,
  rows: number,
  input: Input | undefined,
  random: RandomStream,
): void {
  if (input === undefined || input.standardUncertainty === 0) return;
  standardFills[input.distribution ?? 'normal'](column, rows, random, degreesOfFreedomOf(input));
}

/** From draws about 0 with standard deviation 1 to draws of the input. */
function rescale(column: Float64Array, rows: number, input: Input | undefined): void {
  if (input === undefined) return;
  const { value, standardUncertainty } = input;
  if (standardUncertainty === 0) {
    column.fill(value);
  } else if (input.distribution === 'lognormal') {
    const { mean, deviation } = logMoments(input);
    for (let row = 0; row < rows; row++) column[row] = Math.exp(mean + deviation * (column[row] ?? 0));
  } else {
    for (let row = 0; row < rows; row++) column[row] = value + standardUncertainty * (column[row] ?? 0);
  }
}

/** Makes independent standard normal columns correlated, in place. */
function correlator(
  inputs: readonly Input[],
  columns: readonly Float64Array[],
  correlations: readonly Correlation[],
): (rows: number) => void {
  const structure = correlationStructure(inputs, correlations);
  const places = structure.correlated;
  const pairs = structure.pairs.map(({ places: [a, b], coefficient }) => ({
    places: [a, b] as const,
    coefficient: coefficientOfNormals(inputs[a], inputs[b], coefficient),
  }));
  const factor = choleskyFactor(correlationMatrix({ ...structure, pairs }, places));
  return (rows) => {
    // From the last one up: each needs only the independent draws of itself and of those before it.
    for (let i = places.length - 1; i >= 0; i--) {
      const own = columns[places[i] ?? -1];
      const weights = factor[i];
      if (own === undefined || weights === undefined) continue;
      for (let row = 0; row < rows; row++) {
        let sum = 0;
        for (let k = 0; k <= i; k++) sum += (weights[k] ?? 0) * (columns[places[k] ?? -1]?.[row] ?? 0);
        own[row] = sum;
      }
    }
  };
}

/** Correlation that the underlying normals need for the values to have the coefficient given. */
function coefficientOfNormals(a: Input | undefined, b: Input | undefined, coefficient: number): number {
  if (a === undefined || b === undefined) return coefficient;
  for (const { name, distribution = 'normal' } of [a, b]) {
    if (distribution === 'normal' || distribution === 'lognormal') continue;
    throw new RangeError(
      `Input "${name}" is correlated and has the distribution ${distribution}: only normal and lognormal inputs can be drawn correlated; make what the inputs share an input of its own.`,
    );
  }
  if (a.standardUncertainty === 0 || b.standardUncertainty === 0) return coefficient;
  const [first, second] = [a, b].map((input) =>
    input.distribution === 'lognormal'
      ? { relative: input.standardUncertainty / input.value, deviation: logMoments(input).deviation }
      : null,
  );
  let needed = coefficient;
  if (first && second) {
    needed =
      Math.log1p(coefficient * first.relative * second.relative) / (first.deviation * second.deviation);
  } else {
    const lognormal = first ?? second;
    if (lognormal) needed = (coefficient * lognormal.relative) / lognormal.deviation;
  }
  // Rounding at coefficients of ±1 and small uncertainties.
  if (Math.abs(needed) <= 1 + 1e-9) return Math.min(Math.max(needed, -1), 1);
  throw new RangeError(
    `Inputs "${a.name}" and "${b.name}" cannot have the correlation ${coefficient} with a lognormal distribution: give a smaller one, or take the logarithm as the input.`,
  );
}
