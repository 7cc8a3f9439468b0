import { type LeastSquaresFit, uncertaintyOf, unscaledCovariance } from './linear.ts';
import { derivatives, evaluate, type LeastSquaresProblem, type Point, squared } from './nonlinear-problem.ts';
import {
  acceleration,
  dampedStep,
  predictedReduction,
  scaledLength,
  steepestCosine,
} from './nonlinear-step.ts';
import { valueAt } from './summary.ts';

/** Settings of the search. */
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
