import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import type { RegressionSums } from './classroom-regression.ts';
import type { ArmaNoise, Estimate } from './types.ts';
import type { CutBlocks } from './window.ts';

/** Single readings of a short stretch, in order of time. */
export interface RawSamples {
  readonly time: ArrayLike<number>;
  readonly value: ArrayLike<number>;
}

/** The exponential fit as the classroom estimates need it. */
export interface ReferenceFit {
  /** s */
  readonly timeConstant: number;
  /** °C */
  readonly ambient: number;
  /** Excess over the ambient at `start`, K. */
  readonly amplitude: number;
  /** s */
  readonly start: number;
  /** Change of ln tau per K of each block of the window, 1/K. */
  readonly sensitivity: Float64Array;
  /** Change of ln tau per K of the ambient that was put in, 1/K. */
  readonly ambientSensitivity: number;
  /** Change of ln tau per K/s of drift that was put in, s/K. */
  readonly driftSensitivity: number;
}

/** What the three classroom estimates are made from. Times in s from the recording's first sample. */
export interface ClassroomInput {
  readonly trace: Trace;
  /** Blocks of the clean cooling. */
  readonly window: CutBlocks;
  /** Noise of those blocks. */
  readonly noise: ArmaNoise;
  /** Degrees of freedom of that noise, > 0. */
  readonly noiseDegrees: number;
  /** Standard deviation of a single reading about the smooth signal, K. */
  readonly readingDeviation: number;
  /** When the heat went off, or the start of the cooling. */
  readonly heatOff: number;
  /** Stretch in which a class looks for the hottest reading, and then works on: heating and cooling. */
  readonly trial: Span;
  readonly ambient: {
    /** °C */
    readonly value: number;
    /** K */
    readonly standardUncertainty: number;
    /** When it was read, s: the middle of the baseline. */
    readonly time: number;
  };
  /** Standard uncertainty of a steady drift, K/s. */
  readonly driftUncertainty: number;
  readonly fit: ReferenceFit;
  /** Error fractions between which the logarithm is fitted: (0.9, 0.1) is common practice. */
  readonly upper: number;
  readonly lower: number;
  /** Single readings of a stretch, where they are at hand; block means are used otherwise. */
  readonly readings?: (span: Span) => RawSamples;
}

/** Order of the three estimates in vectors and matrices. */
export const classroomMethods = ['point-36.8', 'log-linear-origin', 'log-linear-intercept'] as const;

/** What the values as a class takes them were made from, so that they can be done again by hand. */
export interface TaughtWorking {
  /** The hottest reading: s from the recording's first sample, °C. */
  readonly start: { readonly time: number; readonly temperature: number };
  /** °C. */
  readonly ambient: number;
  /** Sums of the regressions, times from the start; null where there is no regression. */
  readonly origin: Readonly<RegressionSums> | null;
  readonly intercept: Readonly<RegressionSums> | null;
}

/** The three estimates, and how the classroom values stand to the fit. */
export interface ClassroomResult {
  /** In the order of `classroomMethods`; without those that the data do not reach. */
  readonly estimates: readonly Estimate[];
  /** Start as a class takes it: the hottest reading and its time; null where there is none. */
  readonly start: { readonly time: number; readonly temperature: number } | null;
  /** What the values as taught were made from; null without a start. */
  readonly taught: TaughtWorking | null;
  /** Fitted temperature when the heat went off, °C. */
  readonly fittedStart: number;
  /** Fitted step from there to the ambient that was put in, K. */
  readonly step: number;
  /**
   * ln of classroom value over fitted time constant, in the order of `classroomMethods`, with its covariance
   * from noise, ambient and drift; null unless all three values exist.
   */
  readonly againstFit: {
    readonly logRatio: readonly number[];
    readonly covariance: readonly number[][];
  } | null;
}
