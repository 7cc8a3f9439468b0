import { type Arma, armaCovariance, choleskySolve, stepsBetween } from '../statistics/index.ts';
import { combine } from './fit-curve.ts';
import type { FitGeometry } from './fit-types.ts';

/** How a quantity answers to what went into the fit. */
export interface Response {
  /** Per K of each block. */
  readonly blocks: Float64Array;
  /** Per K of the ambient put in. */
  readonly ambient: number;
  /** Per K of drift over the window put in. */
  readonly drift: number;
}

/**
 * Response of a quantity computed from the parameters: of the minimum's position to the data, by the implicit
 * function theorem with second derivatives of the curve left out.
 *
 * @param gradient derivatives of the quantity by the parameters, in their order
 */
export function responseOf(geometry: FitGeometry, gradient: ArrayLike<number>): Response {
  const direction = new Float64Array(gradient);
  choleskySolve(geometry.hessian, direction.length, direction);
  const { weightVariance, ambientPrecision, driftPrecision } = geometry;
  return {
    blocks: combine(geometry.jacobian, direction),
    ambient: weightVariance * ambientPrecision * (direction[2] ?? Number.NaN),
    drift: weightVariance * driftPrecision * (direction[3] ?? Number.NaN),
  };
}

/** Variance from the noise of the blocks. */
export function noiseVariance(geometry: FitGeometry, noise: Arma, response: Response): number {
  const steps = stepsBetween(geometry.positions);
  return Math.max(0, armaCovariance(noise, steps, response.blocks, response.blocks));
}

/** Variance from the priors: what the ambient put in and the drift may be off. */
export function priorVariance(geometry: FitGeometry, response: Response): { ambient: number; drift: number } {
  const { ambientPrecision, driftPrecision } = geometry;
  return {
    ambient: ambientPrecision > 0 ? response.ambient ** 2 / ambientPrecision : 0,
    drift: driftPrecision > 0 ? response.drift ** 2 / driftPrecision : 0,
  };
}

/**
 * Covariance of the parameters: noise and priors.
 *
 * @returns four by four, row by row
 */
export function parameterCovariance(geometry: FitGeometry, noise: Arma): Float64Array {
  const p = geometry.jacobian.length;
  const steps = stepsBetween(geometry.positions);
  const responses = Array.from({ length: p }, (_, j) => {
    const unit = new Float64Array(p);
    unit[j] = 1;
    return responseOf(geometry, unit);
  });
  const out = new Float64Array(p * p);
  responses.forEach((u, j) => {
    responses.slice(0, j + 1).forEach((v, k) => {
      let covariance = armaCovariance(noise, steps, u.blocks, v.blocks);
      if (geometry.ambientPrecision > 0) covariance += (u.ambient * v.ambient) / geometry.ambientPrecision;
      if (geometry.driftPrecision > 0) covariance += (u.drift * v.drift) / geometry.driftPrecision;
      out[j * p + k] = covariance;
      out[k * p + j] = covariance;
    });
  });
  return out;
}

/** Standard uncertainty of the curve at each block, K. */
export function curveBand(geometry: FitGeometry, noise: Arma): Float64Array {
  const { jacobian } = geometry;
  const p = jacobian.length;
  const covariance = parameterCovariance(geometry, noise);
  const band = new Float64Array(jacobian[0]?.length ?? 0);
  for (let i = 0; i < band.length; i++) {
    let variance = 0;
    for (let j = 0; j < p; j++) {
      const dj = jacobian[j]?.[i] ?? Number.NaN;
      for (let k = 0; k < p; k++) {
        variance += dj * (jacobian[k]?.[i] ?? Number.NaN) * (covariance[j * p + k] ?? Number.NaN);
      }
    }
    band[i] = Math.sqrt(Math.max(0, variance));
  }
  return band;
}
