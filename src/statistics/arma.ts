import { choleskyFactor, choleskyForward } from './arma-cholesky.ts';
import { ArmaFilter, stepsBetween } from './arma-filter.ts';
import type { Arma } from './arma-process.ts';
import { minimumInPlane, type PlaneMinimum } from './arma-search.ts';
import { dot } from './dot.ts';

/**
 * Longest correlation time that is looked for, as a part of the series. A longer one cannot be told from a
 * trend, and white noise would now and then be taken for it: its long-run variance then comes out a hundred
 * times too large.
 */
const longestMemory = 1 / 8;
/** The furthest that theta goes above zero: averaging over blocks brings up to 0.27. */
const largestTheta = 0.35;

/** Where the two searches start: a short memory and a long one. */
const starts = { short: [0, 0], long: [3, 0] } as const;
const searchBudget = 70;
const searchTolerance = 1e-4;

/** Further out than this, the coefficients no longer change. */
const furthest = 12;

/** An ARMA(1,1) process fitted to residuals. */
export interface ArmaFit extends Arma {
  /** Twice the negative restricted log-likelihood, up to a constant that depends on lengths alone. */
  readonly objective: number;
  /** Evaluations of the likelihood. */
  readonly evaluations: number;
}

/** What the residuals are residuals of. */
export interface ArmaFitOptions {
  /**
   * Derivatives of the fitted curve by its parameters, a column each: what the fit has taken out of the noise
   * (for a mean: one column of ones). None by default.
   */
  readonly jacobian?: readonly Float64Array[];
  /** Grid positions of the values, whole and rising; without gaps by default. */
  readonly positions?: ArrayLike<number>;
}

/**
 * ARMA(1,1) noise with positive memory (0 < phi < 1, -phi < theta < 0.35, a correlation
 * time of at most an eighth of the series) by restricted maximum likelihood:
 * the likelihood of what is left when the fitted curve's directions are projected out, so that a curve which
 * follows slow noise does not make the noise look quicker (Patterson & Thompson, Biometrika 58 (1971) 545).
 * The likelihood is exact, for missing values also.
 *
 * @param residual data less fit; at least three more values than columns
 * @returns coefficients; innovation 0 where the residuals are all zero
 * @throws RangeError where there are too few values, or values that are not finite
 */
export function fitArma(residual: ArrayLike<number>, options: ArmaFitOptions = {}): ArmaFit {
  const n = residual.length;
  const columns = options.jacobian ?? [];
  if (n < columns.length + 3) {
    throw new RangeError(
      `noise needs at least ${columns.length + 3} residuals, but there are ${n}: use narrower blocks or a longer window`,
    );
  }
  let largest = 0;
  for (let i = 0; i < n; i++) largest = Math.max(largest, Math.abs(residual[i] ?? Number.NaN));
  if (!Number.isFinite(largest)) throw new RangeError('a residual is not a finite number');
  if (largest === 0) {
    return { phi: 0, theta: 0, innovation: 0, objective: Number.NEGATIVE_INFINITY, evaluations: 0 };
  }

  const { positions } = options;
  const span = positions ? (positions[n - 1] ?? n) - (positions[0] ?? 0) + 1 : n;
  const largestPhi = Math.exp(-1 / (longestMemory * span));
  const likelihood = restrictedLikelihood(residual, columns, positions);
  const objective = (x: number, y: number): number => likelihood(...coefficients(x, y, largestPhi)).objective;
  const search = (start: readonly [number, number], known: PlaneMinimum | null) =>
    minimumInPlane(objective, start, 1, searchBudget, searchTolerance, known);
  const first = search(starts.short, null);
  const second = search(starts.long, first);
  const best = second.value < first.value ? second : first;
  const [phi, theta] = coefficients(...best.at, largestPhi);
  return {
    phi,
    theta,
    innovation: Math.sqrt(likelihood(phi, theta).innovationVariance),
    objective: best.value,
    evaluations: first.evaluations + second.evaluations,
  };
}

/** Maps the plane onto the allowed coefficients. */
function coefficients(x: number, y: number, largestPhi: number): [phi: number, theta: number] {
  const phi = largestPhi * logistic(x);
  return [phi, -phi + (phi + largestTheta) * logistic(y)];
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-Math.max(-furthest, Math.min(furthest, x))));
}

/**
 * The restricted likelihood as a function of the coefficients, with the innovation variance at its best:
 * (n - p) ln(RSS/(n - p)) + ln det(V) + ln det(J' V^-1 J), V the covariance in units of the innovation's.
 *
 * @returns objective to be minimized, and innovation variance
 */
export function restrictedLikelihood(
  residual: ArrayLike<number>,
  jacobian: readonly Float64Array[] = [],
  positions?: ArrayLike<number>,
): (phi: number, theta: number) => { objective: number; innovationVariance: number } {
  const n = residual.length;
  const p = jacobian.length;
  const filter = new ArmaFilter(n, positions ? stepsBetween(positions) : []);
  const series = [...jacobian, Float64Array.from(residual)];
  const white = new Float64Array(n);
  const columns = jacobian.map(() => new Float64Array(n));
  const out = [...columns, white];
  const gram = new Float64Array(p * p);
  const score = new Float64Array(p);
  return (phi, theta) => {
    filter.prepare(phi, theta);
    filter.whitenAll(series, out);
    let rss = dot(white, white);
    for (let j = 0; j < p; j++) {
      const column = columns[j] ?? white;
      score[j] = dot(column, white);
      for (let k = 0; k <= j; k++) gram[j * p + k] = dot(column, columns[k] ?? column);
    }
    if (!choleskyFactor(gram, p)) {
      return { objective: Number.POSITIVE_INFINITY, innovationVariance: Number.NaN };
    }
    choleskyForward(gram, p, score);
    let logGram = 0;
    for (let j = 0; j < p; j++) {
      rss -= (score[j] ?? Number.NaN) ** 2;
      logGram += 2 * Math.log(gram[j * p + j] ?? Number.NaN);
    }
    const innovationVariance = Math.max(rss, Number.MIN_VALUE) / (n - p);
    return {
      objective: (n - p) * Math.log(innovationVariance) + filter.logDeterminant + logGram,
      innovationVariance,
    };
  };
}
