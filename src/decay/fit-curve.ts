import { choleskyFactor, choleskySolve, dot } from '../statistics/index.ts';

/** What is known of a parameter beforehand; precision is one over the squared standard uncertainty, 0 for nothing. */
export interface Prior {
  readonly value: number;
  readonly precision: number;
}

/**
 * The curve a + c d + b exp(-x/tau) through values y, x in s from the start and d in any unit of time from any
 * origin.
 */
export interface CurveProblem {
  readonly x: Float64Array;
  readonly d: Float64Array;
  readonly y: Float64Array;
  readonly ambient: Prior;
  /** Null holds the drift at zero. */
  readonly drift: Prior | null;
  /** Variance that the sum of squares is weighed with against the priors. */
  readonly weightVariance: number;
}

export interface Curve {
  readonly lnTimeConstant: number;
  readonly amplitude: number;
  readonly ambient: number;
  readonly drift: number;
  /** y less the curve. */
  readonly residual: Float64Array;
  /** Derivatives of the curve by ln tau, b, a and c, a column each in this order; without drift, three. */
  readonly jacobian: readonly Float64Array[];
  /** Cholesky factor of J'J + weightVariance * prior precisions. */
  readonly hessian: Float64Array;
}

const mostIterations = 80;
/** Further than this factor from the guess, nothing sensible is found. */
const furthest = Math.log(100);

/**
 * Least squares with priors. For a given time constant the rest is linear and solved at once; the time
 * constant goes by Gauss-Newton steps of the reduced problem (variable projection: Golub & Pereyra, SIAM J.
 * Numer. Anal. 10 (1973) 413; Kaufman's simplification, BIT 15 (1975) 49), halved where they overshoot.
 *
 * @param guess time constant to start from, s
 * @returns null where the search does not settle within a factor of 100 of the guess
 */
export function fitCurve(problem: CurveProblem, guess: number): Curve | null {
  const start = Math.log(guess);
  let here = evaluate(problem, start);
  if (here === null) return null;
  for (let iteration = 0; iteration < mostIterations; iteration++) {
    let step = Math.max(-1, Math.min(1, here.step));
    let next = evaluate(problem, here.lnTimeConstant + step);
    // Close to the minimum the objective's rounding says nothing; the step itself is then good.
    while (Math.abs(step) > 1e-7 && (next === null || next.objective > here.objective)) {
      step /= 2;
      next = evaluate(problem, here.lnTimeConstant + step);
    }
    if (next === null || Math.abs(next.lnTimeConstant - start) > furthest) return null;
    here = next;
    if (Math.abs(step) < 1e-12) return here;
  }
  return Math.abs(here.step) < 1e-9 ? here : null;
}

interface Evaluation extends Curve {
  readonly objective: number;
  /** Gauss-Newton step of ln tau. */
  readonly step: number;
}

function evaluate(problem: CurveProblem, lnTimeConstant: number): Evaluation | null {
  const { x, d, y, ambient, drift, weightVariance } = problem;
  const n = x.length;
  const rate = Math.exp(-lnTimeConstant);
  const fall = new Float64Array(n);
  const ones = new Float64Array(n).fill(1);
  for (let i = 0; i < n; i++) fall[i] = Math.exp(-(x[i] ?? Number.NaN) * rate);
  const linear = drift === null ? [fall, ones] : [fall, ones, d];
  const priors = drift === null ? [nothing, ambient] : [nothing, ambient, drift];
  const solved = solveLinear(linear, y, priors, weightVariance);
  if (solved === null) return null;
  const [b = Number.NaN, a = Number.NaN, c = 0] = solved;

  const residual = new Float64Array(n);
  const byLnTau = new Float64Array(n);
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const f = fall[i] ?? Number.NaN;
    const r = (y[i] ?? Number.NaN) - a - c * (d[i] ?? 0) - b * f;
    residual[i] = r;
    squares += r * r;
    byLnTau[i] = b * f * (x[i] ?? Number.NaN) * rate;
  }
  const pulls = solved.map((value, j) => value - (priors[j] ?? nothing).value);
  const penalty = pulls.reduce((sum, pull, j) => sum + pull * pull * (priors[j] ?? nothing).precision, 0);
  const objective = squares + weightVariance * penalty;

  if (!Number.isFinite(objective)) return null;

  const jacobian = [byLnTau, ...linear];
  const p = jacobian.length;
  const hessian = gram(jacobian);
  priors.forEach((prior, j) => {
    const k = (j + 1) * p + j + 1;
    hessian[k] = (hessian[k] ?? Number.NaN) + weightVariance * prior.precision;
  });
  if (!choleskyFactor(hessian, p)) return null;
  const direction = new Float64Array(p);
  jacobian.forEach((column, j) => {
    const prior = j === 0 ? nothing : (priors[j - 1] ?? nothing);
    direction[j] = dot(column, residual) - weightVariance * prior.precision * (pulls[j - 1] ?? 0);
  });
  choleskySolve(hessian, p, direction);
  return {
    lnTimeConstant,
    amplitude: b,
    ambient: a,
    drift: c,
    residual,
    jacobian,
    hessian,
    objective,
    step: direction[0] ?? Number.NaN,
  };
}

const nothing: Prior = { value: 0, precision: 0 };

function solveLinear(
  columns: readonly Float64Array[],
  y: Float64Array,
  priors: readonly Prior[],
  weightVariance: number,
): number[] | null {
  const p = columns.length;
  const normal = gram(columns);
  const right = new Float64Array(p);
  columns.forEach((column, j) => {
    const prior = priors[j] ?? nothing;
    normal[j * p + j] = (normal[j * p + j] ?? Number.NaN) + weightVariance * prior.precision;
    right[j] = dot(column, y) + weightVariance * prior.precision * prior.value;
  });
  if (!choleskyFactor(normal, p)) return null;
  choleskySolve(normal, p, right);
  return right.every(Number.isFinite) ? Array.from(right) : null;
}

/** Sums of products of columns, lower triangle. */
function gram(columns: readonly Float64Array[]): Float64Array {
  const p = columns.length;
  const out = new Float64Array(p * p);
  columns.forEach((column, j) => {
    for (let k = 0; k <= j; k++) out[j * p + k] = dot(column, columns[k] ?? column);
  });
  return out;
}

/** Sum of columns times coefficients. */
export function combine(columns: readonly Float64Array[], coefficients: ArrayLike<number>): Float64Array {
  const out = new Float64Array(columns[0]?.length ?? 0);
  columns.forEach((column, j) => {
    const k = coefficients[j] ?? Number.NaN;
    for (let i = 0; i < out.length; i++) out[i] = (out[i] ?? Number.NaN) + k * (column[i] ?? Number.NaN);
  });
  return out;
}
