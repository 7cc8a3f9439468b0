import { type Arma, ArmaFilter, dot, stepsBetween } from '../statistics/index.ts';
import type { FitGeometry } from './fit-types.ts';

const degrees = [2, 3, 4, 5, 6, 7] as const;
/** Contrasts and steps reach this many time constants: later, the decay is lost in the noise. */
const contrastReach = 4;
const stepReach = 6;

export interface SlowWandering {
  readonly chiSquare: number;
  readonly contrasts: number;
  /** Variance of ln tau. */
  readonly variance: number;
}

/**
 * How much the residuals wander as they would if the cooling rate wandered: six smooth contrasts, an
 * exponential times Legendre polynomials, of what is left after the fit, each in units of the noise. A random
 * walk of the logarithm of the error fraction, of the strength that the contrasts show, gives the variance.
 *
 * @param x time from the start in time constants
 * @param sensitivity change of ln tau per K of each block
 * @returns null where there are too few blocks for the contrasts
 */
export function slowWandering(
  geometry: FitGeometry,
  noise: Arma,
  x: Float64Array,
  amplitude: number,
  residual: Float64Array,
  sensitivity: Float64Array,
): SlowWandering | null {
  const n = x.length;
  if (n < geometry.jacobian.length + 2 * degrees.length || noise.innovation === 0) return null;
  const filter = new ArmaFilter(n, stepsBetween(geometry.positions));
  filter.prepare(noise.phi, noise.theta);

  const basis = orthonormal(geometry.jacobian.map((column) => filter.whiten(column)));
  const reach = Math.min(x[n - 1] ?? 0, contrastReach);
  const contrasts = orthonormal(
    degrees.map((degree) =>
      filter.whiten(x.map((at) => Math.exp(-at) * legendre(degree, (2 * Math.min(at, reach)) / reach - 1))),
    ),
    basis,
  );
  if (contrasts.length < degrees.length) return null;

  const white = filter.whiten(residual);
  const noiseVariance = noise.innovation ** 2;
  let chiSquare = 0;
  let product = 0;
  let square = 0;
  for (const contrast of contrasts) {
    const z = dot(contrast, white);
    const v = steppedPower(filter.whitenTransposed(contrast), x, amplitude);
    chiSquare += z ** 2 / noiseVariance;
    product += (z ** 2 - noiseVariance) * v;
    square += v ** 2;
  }
  const strength = square > 0 ? Math.max(0, product / square) : 0;
  return {
    chiSquare,
    contrasts: contrasts.length,
    variance: strength * steppedPower(sensitivity, x, amplitude),
  };
}

/**
 * Sum over the times of a step in ln G, of one unit, of the squared answer of a linear functional of the
 * readings, times the spacing of the steps in time constants.
 */
function steppedPower(weights: Float64Array, x: Float64Array, amplitude: number): number {
  let after = 0;
  let power = 0;
  for (let i = x.length - 1; i > 0; i--) {
    const at = x[i] ?? Number.NaN;
    after += (weights[i] ?? Number.NaN) * amplitude * Math.exp(-at);
    if (at <= stepReach) power += after ** 2 * (at - (x[i - 1] ?? Number.NaN));
  }
  return power;
}

/**
 * Orthonormal columns that span the given ones, after taking out a basis that is orthonormal already. Gram and
 * Schmidt, each column twice, which is enough for full accuracy (Giraud & Langou, 2002). Columns that depend
 * on earlier ones are left out.
 */
export function orthonormal(
  columns: readonly Float64Array[],
  basis: readonly Float64Array[] = [],
): Float64Array[] {
  const out: Float64Array[] = [];
  for (const column of columns) {
    const length = Math.sqrt(dot(column, column));
    const rest = new Float64Array(column);
    for (let pass = 0; pass < 2; pass++) {
      for (const q of basis) takeOut(rest, q);
      for (const q of out) takeOut(rest, q);
    }
    const left = Math.sqrt(dot(rest, rest));
    if (!(left > 1e-9 * length)) continue;
    out.push(rest.map((value) => value / left));
  }
  return out;
}

/** Takes out of a column what lies along a direction of length 1. */
function takeOut(column: Float64Array, direction: Float64Array): void {
  const along = dot(direction, column);
  for (let i = 0; i < column.length; i++) {
    column[i] = (column[i] ?? Number.NaN) - along * (direction[i] ?? Number.NaN);
  }
}

/** Legendre polynomial by the three-term recursion (Abramowitz & Stegun, 8.5.3); -1 <= s <= 1. */
function legendre(degree: number, s: number): number {
  let before = 1;
  let value = s;
  for (let k = 2; k <= degree; k++) {
    const next = ((2 * k - 1) * s * value - (k - 1) * before) / k;
    before = value;
    value = next;
  }
  return value;
}
