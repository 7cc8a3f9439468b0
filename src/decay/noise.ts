import {
  type Arma,
  armaCorrelationTime,
  armaLongRunVariance,
  armaVariance,
  fitArma,
} from '../statistics/index.ts';
import type { ArmaNoise } from './types.ts';

/**
 * An ARMA(1,1) process of block means, with what it amounts to in seconds.
 *
 * @param process innovation in K
 * @param blockWidth width of the blocks, s
 */
export function noiseOfBlocks(process: Arma, blockWidth: number): ArmaNoise {
  return {
    phi: process.phi,
    theta: process.theta,
    innovation: process.innovation,
    blockWidth,
    variance: armaVariance(process),
    correlationTime: armaCorrelationTime(process) * blockWidth,
    longRunVariance: armaLongRunVariance(process),
  };
}

/**
 * The noise of block means about a fitted curve.
 *
 * @param residual data less curve, K
 * @param jacobian derivatives of the curve by its parameters
 * @param positions grid positions of the blocks
 * @param blockWidth s
 * @param floor smallest innovation that is believed, K: residuals are never better than the numbers' rounding
 */
export function residualNoise(
  residual: Float64Array,
  jacobian: readonly Float64Array[],
  positions: ArrayLike<number>,
  blockWidth: number,
  floor: number,
): ArmaNoise {
  const fitted = fitArma(residual, { jacobian, positions });
  return noiseOfBlocks({ ...fitted, innovation: Math.max(fitted.innovation, floor) }, blockWidth);
}

/**
 * Number of independent readings that a stretch is worth: its length over twice the correlation time; its number of blocks
 * where neighbours are not correlated.
 *
 * @param duration of the stretch, s, at least 0
 */
export function independentReadings(noise: ArmaNoise, duration: number): number {
  return noise.correlationTime > 0 ? duration / (2 * noise.correlationTime) : duration / noise.blockWidth;
}

/**
 * Degrees of freedom of a noise level that was found on a stretch: its independent readings less the three
 * that the curve took, at least 3.
 */
export function noiseFreedom(noise: ArmaNoise, duration: number): number {
  return Math.max(3, independentReadings(noise, duration) - 3);
}
