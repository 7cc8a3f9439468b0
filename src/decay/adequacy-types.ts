import type { DecayFit } from './fit-types.ts';

/** What the tests of the first-order model look at. */
export interface AdequacyInput {
  readonly fit: DecayFit;
  /**
   * Blocks from the heat going off to the first block of the fit, on the same grid; null where the moment is not
   * known. The lists may be empty where the fit starts at once.
   */
  readonly early: {
    readonly heatOff: number;
    readonly time: Float64Array;
    readonly value: Float64Array;
  } | null;
  /**
   * Longest time, s, for which hot air may linger after the heat is off without being held against the body;
   * 1 s by default, and never more than 0.35 time constants.
   */
  readonly linger?: number;
}

/** What each test looks at. */
export type AdequacyTestName =
  | 'curvature'
  | 'second-exponential'
  | 'back-extrapolation'
  | 'early-against-late'
  | 'ratio-90-to-50';

/** One test of whether a single exponential describes the cooling. */
export interface AdequacyTest {
  readonly name: AdequacyTestName;
  /** What was found, in units of its standard uncertainty; the sign says the direction. */
  readonly statistic: number;
  /** Absolute value that one exponential stays below. */
  readonly limit: number;
  readonly fails: boolean;
}

/** What a departure from one exponential looks like. */
export type DepartureKind =
  | 'delay-or-inner-conduction'
  | 'slow-second-path'
  | 'fast-early-component'
  | 'jet-changed'
  | 'unclear';

/** Whether one exponential is enough for the cooling. */
export interface Adequacy {
  /** Null where the recording cannot tell. */
  readonly firstOrder: boolean | null;
  /** What a departure looks like; null where there is none. */
  readonly kind: DepartureKind | null;
  /** Where the rate changed: after it over before it, less 1, and when, s; null for any other kind. */
  readonly rateChange: { readonly share: number; readonly time: number } | null;
  /**
   * How much a departure matters: the part of the time constant by which it moves the fit, or the delay that it means
   * in time constants, whichever is larger; null where there is none.
   */
  readonly size: number | null;
  /** What was seen, and what the time constant still means. */
  readonly sentence: string;
  readonly tests: readonly AdequacyTest[];
  /** Time to 90 % of the fall over time to 50 %; null where the recording does not reach 90 %. */
  readonly ratio90to50: {
    readonly value: number;
    readonly standardUncertainty: number;
    /** log2(10): one exponential. */
    readonly expected: number;
    readonly from: 'heat-off' | 'window-start';
  } | null;
  /** By how much the fit, carried back to the heat going off, lies above the reading: ln of the ratio. */
  readonly backExtrapolation: { readonly value: number; readonly standardUncertainty: number } | null;
  /** Time constant of the first half of the fall over that of the rest. */
  readonly earlyOverLate: { readonly value: number; readonly standardUncertainty: number } | null;
  /** Smallest second exponential, as a part of the excess at the window's start, that would have shown. */
  readonly visibleShare: { readonly fast: number; readonly slow: number } | null;
}
