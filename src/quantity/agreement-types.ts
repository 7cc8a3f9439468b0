import type { Interval } from './coverage.ts';

/**
 * Whether two values agree. `agree`: they do, and a difference of practical size would have shown. `disagree`: their
 * uncertainties do not explain the difference. `too-weak-to-tell`: they do, but would as well explain a difference of
 * practical size.
 */
export type AgreementVerdict = 'agree' | 'disagree' | 'too-weak-to-tell';

/** Relative differences from a reference, both positive. */
export interface RelativeReach {
  /** Above the reference. */
  readonly above: number;
  /** Below the reference. */
  readonly below: number;
}

/** The outcome of a comparison of a value with a reference. */
export interface Agreement {
  readonly verdict: AgreementVerdict;
  /** `log` where the uncertainties multiply. */
  readonly scale: 'plain' | 'log';
  /** Value less reference, in their unit. */
  readonly difference: number;
  /** Value over reference. */
  readonly ratio: number;
  /** Coverage interval of the ratio; reaches from -∞ to ∞ where the reference may as well be 0. */
  readonly ratioInterval: Interval;
  /** |En| ≤ 1 where the uncertainties explain the difference. */
  readonly normalisedError: number;
  /** Expanded uncertainty of the difference (`plain`) or of the logarithm of the ratio (`log`). */
  readonly expandedUncertainty: number;
  /** Smallest relative differences that would have shown as a disagreement. */
  readonly smallestSeen: RelativeReach;
  /** The relative difference that would matter. */
  readonly practical: number;
  readonly coverage: number;
  /** One sentence: what was found and what it is worth. */
  readonly sentence: string;
}
