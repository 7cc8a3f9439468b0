import type { Remark, Span } from '../remark/index.ts';
import type { Adequacy } from './adequacy-types.ts';
import type { BaselineReading } from './baseline.ts';
import type { TaughtWorking } from './classroom-types.ts';
import type { Fingerprint } from './fingerprint.ts';
import type { DecayFit } from './fit-types.ts';
import type { RawNoise } from './raw-noise-types.ts';
import type { Ambient, BudgetLine, Estimate, EstimateMethod, Segments, Verdict } from './types.ts';

/** The time constant reported. */
export interface TimeConstant {
  /** s */
  readonly value: number;
  /** s */
  readonly standardUncertainty: number;
  /** Lower and upper end of the coverage interval, s. */
  readonly interval: readonly [number, number];
  /** Coverage probability of the interval. */
  readonly coverage: number;
  readonly degreesOfFreedom: number;
  readonly method: EstimateMethod;
}

/** One block of the cooling, as figures and exports show it. */
export interface CoolingPoint {
  /** s from the recording's first sample. */
  readonly time: number;
  /** °C */
  readonly temperature: number;
  /** Excess over the fitted ambient, as a part of the step when the heat went off. */
  readonly errorFraction: number;
  /** The same by the fit. */
  readonly fitted: number;
  /** Temperature less fit, K. */
  readonly residual: number;
  /** Standard uncertainty of the fitted curve, K. */
  readonly band: number;
}

/** Everything that a recording says about its time constant. */
export interface Decay {
  readonly segments: Segments;
  /** The stretch of the cooling between the error fractions of the classroom fits; null without a fit. */
  readonly window: Span | null;
  readonly baseline: BaselineReading | null;
  readonly ambient: Ambient | null;
  readonly estimates: readonly Estimate[];
  /** What the values as a class takes them were made from; null without a fit. */
  readonly taught: TaughtWorking | null;
  /** Null where the recording cannot carry one. */
  readonly timeConstant: TimeConstant | null;
  readonly fit: DecayFit | null;
  /** Noise of single readings; null where there are too few. */
  readonly noise: RawNoise | null;
  /** To how many independent readings those of the window amount; null without a fit. */
  readonly independentReadings: number | null;
  readonly adequacy: Adequacy | null;
  /** Every source of uncertainty of the time constant, the largest first; empty without one. */
  readonly budget: readonly BudgetLine[];
  readonly fingerprint: Fingerprint | null;
  /** Fitted temperature when the heat went off, °C; null without a fit. */
  readonly fittedStart: number | null;
  /** Error fraction at the end of the cooling; null without a fit. */
  readonly endFraction: number | null;
  readonly points: readonly CoolingPoint[];
  readonly remarks: readonly Remark[];
  readonly verdict: Verdict;
}
