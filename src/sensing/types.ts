import type { Blocks } from '../recording/index.ts';
import type { Remark } from '../remark/index.ts';

/** How well the chain from junction to file is known, in terms of temperature. */
export interface ChainUncertainty {
  /** Standard uncertainty of a common offset of all readings, K. */
  readonly offset: number;
  /** Relative standard uncertainty of a common scale factor of temperature differences. */
  readonly scale: number;
  /** Standard uncertainty of the largest departure from a straight scale over the span in use, K. */
  readonly nonlinearity: number;
}

/** A recording in degrees Celsius, whatever it was logged in. */
export interface Trace {
  readonly name: string;
  /** Temperatures in °C; `squares` in K². */
  readonly blocks: Blocks;
  /** Usual spacing of the samples, s. */
  readonly samplePeriod: number;
  /** The first samples as they were, in °C, evenly spaced by the sample period. */
  readonly opening: Float64Array;
  readonly chain: ChainUncertainty;
  /** One sentence: how readings became degrees. */
  readonly described: string;
  readonly remarks: readonly Remark[];
}
