import { valueAt } from './summary.ts';

/** A model whose parameters are sought by least squares. */
export interface LeastSquaresProblem {
  /** Number of residuals. */
  readonly count: number;
  /** Writes the residuals, reading less model, each divided by its standard deviation if they differ. */
  residuals(parameters: readonly number[], out: Float64Array): void;
  /**
   * Writes the derivatives of the residuals, one array a parameter. Where it is left out they are found
   * numerically.
   */
  jacobian?(parameters: readonly number[], out: readonly Float64Array[]): void;
}

/**
 * The problem of fitting a curve to readings.
 *
 * @param model value at x for given parameters
 * @param x where the readings were taken
 * @param y readings, as many as x
 */
export function curveProblem(
  model: (x: number, parameters: readonly number[]) => number,
  x: ArrayLike<number>,
  y: ArrayLike<number>,
): LeastSquaresProblem {
  return {
    count: y.length,
    residuals(parameters, out) {
      for (let i = 0; i < y.length; i++) out[i] = valueAt(y, i) - model(valueAt(x, i), parameters);
    },
  };
}

/** Parameters and what they give. */
export interface Point {
  readonly parameters: readonly number[];
  readonly residuals: Float64Array;
  /** Sum of squared residuals. */
  readonly ssr: number;
}

/** Residuals and their sum of squares at a set of parameters. */
export function evaluate(problem: LeastSquaresProblem, parameters: readonly number[]): Point {
  const residuals = new Float64Array(problem.count);
  problem.residuals(parameters, residuals);
  return { parameters, residuals, ssr: squared(residuals) };
}

/** Derivatives of the residuals, by the five-point rule (Abramowitz & Stegun, 1964, 25.3.6) where none are given. */
export function derivatives(
  problem: LeastSquaresProblem,
  parameters: readonly number[],
  start: readonly number[],
  columns: readonly Float64Array[],
): void {
  if (problem.jacobian !== undefined) {
    problem.jacobian(parameters, columns);
    return;
  }
  const ahead = new Float64Array(problem.count);
  const behind = new Float64Array(problem.count);
  for (const [j, column] of columns.entries()) {
    const size = Math.abs(valueAt(parameters, j)) || Math.abs(valueAt(start, j)) || 1;
    // The error of the rule falls with h⁴, that of rounding grows with 1/h: they meet near a thousandth.
    const h = size * 2 ** -10;
    const moved = (by: number) => parameters.map((value, m) => (m === j ? value + by : value));
    column.fill(0);
    for (const { steps, weight } of fivePointRule) {
      problem.residuals(moved(steps * h), ahead);
      problem.residuals(moved(-steps * h), behind);
      for (let i = 0; i < column.length; i++) {
        column[i] = valueAt(column, i) + (weight * (valueAt(ahead, i) - valueAt(behind, i))) / h;
      }
    }
  }
}

const fivePointRule = [
  { steps: 1, weight: 8 / 12 },
  { steps: 2, weight: -1 / 12 },
] as const;

/** Sum of products. */
export function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += valueAt(a, i) * valueAt(b, i);
  return sum;
}

/** Sum of squares. */
export function squared(values: Float64Array): number {
  return product(values, values);
}
