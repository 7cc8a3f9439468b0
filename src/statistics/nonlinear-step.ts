import { Matrix, QrDecomposition } from 'ml-matrix';
import { evaluate, type LeastSquaresProblem, type Point, product } from './nonlinear-problem.ts';
import { valueAt } from './summary.ts';

/** Step that minimizes |r + J step|² + damping |scale step|². */
export function dampedStep(
  columns: readonly Float64Array[],
  residuals: Float64Array,
  scale: readonly number[],
  damping: number,
): number[] {
  const n = residuals.length;
  const p = columns.length;
  const matrix = Matrix.zeros(n + p, p);
  const right = Matrix.zeros(n + p, 1);
  // In units of the scale all columns are at most one long.
  for (const [j, column] of columns.entries()) {
    for (let i = 0; i < n; i++) matrix.set(i, j, valueAt(column, i) / valueAt(scale, j));
    matrix.set(n + j, j, Math.sqrt(damping));
  }
  for (let i = 0; i < n; i++) right.set(i, 0, -valueAt(residuals, i));
  const solution = new QrDecomposition(matrix).solve(right);
  return scale.map((s, j) => solution.get(j, 0) / s);
}

/** What the linear model promises: |r|² - |r + J step|². */
export function predictedReduction(
  columns: readonly Float64Array[],
  residuals: Float64Array,
  step: readonly number[],
): number {
  let reduction = 0;
  for (let i = 0; i < residuals.length; i++) {
    let change = 0;
    for (const [j, column] of columns.entries()) change += valueAt(column, i) * valueAt(step, j);
    reduction -= change * (2 * valueAt(residuals, i) + change);
  }
  return reduction;
}

/**
 * Second-order correction of a step along the curved surface of the model (Transtrum & Sethna, 2012): half the
 * damped response to the second derivative of the residuals in the direction of the step.
 */
export function acceleration(
  problem: LeastSquaresProblem,
  point: Point,
  columns: readonly Float64Array[],
  scale: readonly number[],
  damping: number,
  step: readonly number[],
): number[] {
  const h = 0.1;
  const ahead = evaluate(
    problem,
    point.parameters.map((value, j) => value + h * valueAt(step, j)),
  ).residuals;
  const second = new Float64Array(problem.count);
  for (let i = 0; i < second.length; i++) {
    let along = 0;
    for (const [j, column] of columns.entries()) along += valueAt(column, i) * valueAt(step, j);
    second[i] = (2 / h) * ((valueAt(ahead, i) - valueAt(point.residuals, i)) / h - along);
  }
  return dampedStep(columns, second, scale, damping).map((value) => value / 2);
}

/** Length of a vector of parameters in the scale of the problem. */
export function scaledLength(vector: readonly number[], scale: readonly number[]): number {
  return Math.sqrt(vector.reduce((sum, value, j) => sum + (value * valueAt(scale, j)) ** 2, 0));
}

/** Largest cosine of the angle between the residuals and a column of the Jacobian. */
export function steepestCosine(
  columns: readonly Float64Array[],
  lengths: readonly number[],
  point: Point,
): number {
  const cosines = columns.map(
    (column, j) => Math.abs(product(column, point.residuals)) / valueAt(lengths, j),
  );
  return Math.max(...cosines) / Math.sqrt(point.ssr);
}
