import {
  armaCovariance,
  fitLine,
  initialPositiveInflation,
  lineInfluences,
  stepsBetween,
} from '../statistics/index.ts';
import type { BaselineLevel } from './fit-types.ts';
import { residualNoise } from './noise.ts';
import { at } from './segment-series.ts';
import type { ArmaNoise } from './types.ts';
import type { CutBlocks } from './window.ts';

/** The level before heating, and whether it was steady. */
export interface BaselineReading extends BaselineLevel {
  /** K/s */
  readonly slope: number;
  /** Standard uncertainty of the slope with correlated noise, K/s. */
  readonly slopeUncertainty: number;
  /** Change over the baseline by its slope, K. */
  readonly change: number;
  /** Whether that change is either within its uncertainty (99 %) or small enough not to matter. */
  readonly steady: boolean;
}

/** Fewer blocks than this do not show how their noise is correlated. */
const fewestForNoise = 20;

/** A change must exceed its standard uncertainty by this to be real: 99 % of a normal distribution. */
const significance = 2.58;

/** Smallest standard deviation of a block that is believed, K: numbers are rounded. */
const noiseFloor = 1e-6;

/**
 * Mean of the baseline with the standard uncertainty that its own correlated noise gives it: by an ARMA(1,1)
 * process found on its blocks (L/n in the limit), or, below 20 blocks, by the standard error widened by the
 * autocorrelations up to the first negative one.
 *
 * @param blocks of the baseline, as wide as those of the cooling
 * @param noise of such blocks where it is known; found here where left out; null for the fallback
 * @param steadyWithin change over the baseline that does not matter, K
 * @returns null where there are fewer than two blocks
 */
export function baselineLevel(
  blocks: CutBlocks,
  noise?: ArmaNoise | null,
  steadyWithin = 0.3,
): BaselineReading | null {
  const n = blocks.length;
  const line = fitLine(blocks.time, blocks.value);
  if (n < 2 || line === null) return null;
  const duration = at(blocks.time, n - 1) - at(blocks.time, 0) + blocks.blockWidth;
  const ones = new Float64Array(n).fill(1);
  const centred = blocks.time.map((t) => t - line.centre.x);
  const residual = blocks.value.map((y, i) => y - line.centre.y - line.slope * at(centred, i));
  const found =
    noise === undefined && n >= fewestForNoise
      ? residualNoise(residual, [ones, centred], blocks.position, blocks.blockWidth, noiseFloor)
      : (noise ?? null);
  const share = ones.map((x) => x / n);
  const steps = stepsBetween(blocks.position);
  const influence = lineInfluences(blocks.time).slope;
  const fallback = initialPositiveInflation(residual);
  const standardUncertainty = found
    ? Math.sqrt(armaCovariance(found, steps, share, share))
    : line.centre.standardError * fallback;
  const slopeUncertainty = found
    ? Math.sqrt(armaCovariance(found, steps, influence, influence))
    : line.slopeStandardError * fallback;
  const change = line.slope * duration;
  const steady = Math.abs(change) <= Math.max(steadyWithin, significance * slopeUncertainty * duration);
  return {
    mean: line.centre.y,
    midTime: line.centre.x,
    standardUncertainty: Number.isFinite(standardUncertainty) ? standardUncertainty : Math.abs(change),
    duration,
    blocks: n,
    noise: found,
    slope: line.slope,
    slopeUncertainty: Number.isFinite(slopeUncertainty) ? slopeUncertainty : Math.abs(line.slope),
    change,
    steady,
  };
}
