import { Matrix, QrDecomposition } from 'ml-matrix';
import { type LeastSquaresFit, uncertaintyOf, unscaledCovariance } from './linear.ts';
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

export interface NonlinearOptions {
  /** Most Jacobians to take. Default 1000. */
  readonly iterations?: number;
}

/** Outcome of a fit that may fail. */
export type NonlinearFit =
  | (LeastSquaresFit & { readonly converged: true; readonly iterations: number })
  | {
      readonly converged: false;
      /** One sentence: why there is no result. */
      readonly reason: string;
      /** The best found. */
      readonly parameters: readonly number[];
      readonly iterations: number;
    };

/** A step smaller than this, relative to the parameters in the scale of the problem, is the end. */
const smallestStep = 1e-12;
/** Cosine between the residuals and the nearest column of the Jacobian at which they count as orthogonal. */
const smallestCosine = 1e-13;
/** Steps below this, relative to the parameters, are taken as straight. */
const straightStep = 1e-4;
/** A step whose second-order correction is longer than this part of it leaves the region where the model holds. */
const largestBend = 0.2;
/**
 * A column of the Jacobian that has shrunk to this part of its longest, for a unit of its parameter as for a
 * percent of it, no longer carries the parameter.
 */
const vanished = 1e-12;
/** Relative change of a sum of squares that rounding makes. */
const flat = 1e-10;
/** Numerical derivatives are good to about this: columns that differ by less are the same. */
const indistinct = 1e-11;
const smallestDamping = 1e-16;
const largestDamping = 1e40;

/**
 * Nonlinear least squares by Levenberg's and Marquardt's method: the damping is scaled by the column lengths of
 * the Jacobian (Moré, 1978), steps come from a QR decomposition, and the damping follows the gain ratio
 * (Nielsen, 1999); long steps are bent along the model's curvature and cut where it is strong (Transtrum &
 * Sethna, 2012), which keeps exponentials from running away to where they are flat.
 *
 * @param problem residuals and, if known, their derivatives
 * @param start parameters to start from; they also set the scale of numerical derivatives
 */
export function fitNonlinear(
  problem: LeastSquaresProblem,
  start: readonly number[],
  options: NonlinearOptions = {},
): NonlinearFit {
  const most = options.iterations ?? 1000;
  let point = evaluate(problem, start);
  if (!Number.isFinite(point.ssr)) {
    return failed('The model has no finite value at the starting parameters.', start, 0);
  }
  if (problem.count < start.length) {
    return failed('There are fewer readings than parameters.', start, 0);
  }
  const columns = start.map(() => new Float64Array(problem.count));
  let scale = start.map(() => 0);
  let longest = scale;
  let heaviest = scale;
  let damping = 1e-3;
  let settled = false;
  for (let iteration = 1; iteration <= most; iteration++) {
    derivatives(problem, point.parameters, start, columns);
    const lengths = columns.map((column) => Math.sqrt(squared(column)));
    const weights = lengths.map((length, j) => length * Math.abs(valueAt(point.parameters, j)));
    const lost = lengths.findIndex(
      (length, j) =>
        !(length > vanished * valueAt(longest, j)) &&
        !(valueAt(weights, j) > vanished * valueAt(heaviest, j)),
    );
    if (lost >= 0) {
      return failed(`The model stopped depending on parameter ${lost + 1}.`, point.parameters, iteration);
    }
    if (settled || point.ssr === 0 || steepestCosine(columns, lengths, point) < smallestCosine) {
      point = polished(problem, point, columns, scale);
      derivatives(problem, point.parameters, start, columns);
      return finished(columns, point, iteration);
    }
    longest = longest.map((length, j) => Math.max(length, valueAt(lengths, j)));
    heaviest = heaviest.map((weight, j) => Math.max(weight, valueAt(weights, j)));
    // A long memory keeps the steps cautious; without any decay a bad start is remembered for ever.
    scale = scale.map((length, j) => Math.max(length / 2, valueAt(lengths, j)));
    const found = search(problem, point, columns, scale, damping);
    if (found === null) {
      return failed(
        'No smaller sum of squares was found near the last parameters.',
        point.parameters,
        iteration,
      );
    }
    ({ point, damping, settled } = found);
  }
  return failed(`The fit had not settled after ${most} iterations.`, point.parameters, most);
}

interface Point {
  readonly parameters: readonly number[];
  readonly residuals: Float64Array;
  /** Sum of squared residuals. */
  readonly ssr: number;
}

function evaluate(problem: LeastSquaresProblem, parameters: readonly number[]): Point {
  const residuals = new Float64Array(problem.count);
  problem.residuals(parameters, residuals);
  return { parameters, residuals, ssr: squared(residuals) };
}

/** Raises the damping until a step lowers the sum of squares, or is too small to matter. */
function search(
  problem: LeastSquaresProblem,
  point: Point,
  columns: readonly Float64Array[],
  scale: readonly number[],
  startDamping: number,
): { point: Point; damping: number; settled: boolean } | null {
  let growth = 2;
  for (let damping = startDamping; damping < largestDamping; damping *= growth, growth *= 2) {
    const step = dampedStep(columns, point.residuals, scale, damping);
    const relative = scaledLength(step, scale) / scaledLength(point.parameters, scale);
    const settled = !(relative > smallestStep);
    const bend = relative > straightStep ? acceleration(problem, point, columns, scale, damping, step) : null;
    const bent = bend === null ? 0 : scaledLength(bend, scale) / scaledLength(step, scale);
    const trial = evaluate(
      problem,
      point.parameters.map((value, j) => value + valueAt(step, j) + (bend === null ? 0 : valueAt(bend, j))),
    );
    const gain = (point.ssr - trial.ssr) / predictedReduction(columns, point.residuals, step);
    if (gain > 0 && bent <= largestBend) {
      const eased = damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3);
      return { point: trial, damping: Math.max(eased, smallestDamping), settled };
    }
    // Rounding decides between points this close: there is nothing left to gain.
    if (settled) return { point, damping, settled };
  }
  return null;
}

function scaledLength(vector: readonly number[], scale: readonly number[]): number {
  return Math.sqrt(vector.reduce((sum, value, j) => sum + (value * valueAt(scale, j)) ** 2, 0));
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

/** Derivatives of the residuals, by the five-point rule (Abramowitz & Stegun, 1964, 25.3.6) where none are given. */
function derivatives(
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

/**
 * Second-order correction of a step along the curved surface of the model (Transtrum & Sethna, 2012): half the
 * damped response to the second derivative of the residuals in the direction of the step.
 */
function acceleration(
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

/** Largest cosine of the angle between the residuals and a column of the Jacobian. */
function steepestCosine(columns: readonly Float64Array[], lengths: readonly number[], point: Point): number {
  const cosines = columns.map(
    (column, j) => Math.abs(product(column, point.residuals)) / valueAt(lengths, j),
  );
  return Math.max(...cosines) / Math.sqrt(point.ssr);
}

/** Step that minimizes |r + J step|² + damping |scale step|². */
function dampedStep(
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
function predictedReduction(
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

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += valueAt(a, i) * valueAt(b, i);
  return sum;
}

function squared(values: Float64Array): number {
  return product(values, values);
}

/**
 * A few undamped steps: near the minimum the sum of squares is flat to rounding long before its slope is, so the
 * slope still knows the digits that are left.
 */
function polished(
  problem: LeastSquaresProblem,
  point: Point,
  columns: readonly Float64Array[],
  scale: readonly number[],
): Point {
  if (scale.some((length) => length === 0)) return point;
  let best = point;
  let last = straightStep;
  for (let k = 0; k < 5; k++) {
    const step = dampedStep(columns, best.residuals, scale, smallestDamping);
    const moved = scaledLength(step, scale) / scaledLength(best.parameters, scale);
    if (!(moved < last)) return best;
    const trial = evaluate(
      problem,
      best.parameters.map((value, j) => value + valueAt(step, j)),
    );
    if (!(trial.ssr <= point.ssr * (1 + flat))) return best;
    best = trial;
    last = moved / 2;
  }
  return best;
}

function finished(columns: readonly Float64Array[], point: Point, iterations: number): NonlinearFit {
  const { parameters, ssr } = point;
  const rows = point.residuals.length;
  const factor = unscaledCovariance(columns, rows, indistinct);
  if (factor === null) {
    return failed('The readings do not tell the parameters apart.', parameters, iterations);
  }
  return { converged: true, iterations, parameters, ...uncertaintyOf(factor.inverse, ssr, rows) };
}

function failed(reason: string, parameters: readonly number[], iterations: number): NonlinearFit {
  return { converged: false, reason, parameters, iterations };
}
