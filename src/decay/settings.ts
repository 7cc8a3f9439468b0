import type { Span } from '../remark/index.ts';

/** How a trial is judged and analyzed. Temperatures in °C, differences in K, times in s. */
export interface DecaySettings {
  /** Mains frequency, Hz: 50 or 60. */
  readonly mains: number;
  /** Error fractions between which the classroom fits are made, the larger first. */
  readonly window: { readonly from: number; readonly to: number };
  /** Where the ambient of the cooling comes from. */
  readonly ambient:
    | { readonly kind: 'baseline' }
    | { readonly kind: 'given'; readonly value: number; readonly standardUncertainty: number }
    | { readonly kind: 'fitted' };
  /** Standard uncertainty of the ambient in the cooling jet against that of the baseline, K. */
  readonly ambientOffset: number;
  /** Standard uncertainty of a steady drift, K/s. */
  readonly drift: number;
  /** Relative standard uncertainty of the time base. */
  readonly timeBase: number;
  /** Which heating to take, counted from 1; null for the last with a complete cooling. */
  readonly heating: number | null;
  /** Shortest baseline that the protocol allows, s. */
  readonly shortestBaseline: number;
  /** Temperature that the heating should reach; null for none. */
  readonly target: number | null;
  /** Temperature that the body may not pass; null for none. */
  readonly limit: number | null;
  /** Error fraction that the cooling should reach. */
  readonly endFraction: number;
  /** Marks set by hand, which win over what is found. */
  readonly marks: { readonly baseline: Span | null; readonly cooling: Span | null };
}

/**
 * The usual protocol. Baseline of 15 s, window 0.9 to 0.1 and end fraction 0.1: common practice, no source. The
 * ambient's offset of 0.3 K (supply air is a little colder than the room) and the drift of 0.5 K in 10 min are
 * assumptions that an experiment file can replace. A quartz clock is good to about 50 parts in a million
 * (common practice, no source).
 */
export const usualDecaySettings: DecaySettings = {
  mains: 50,
  window: { from: 0.9, to: 0.1 },
  ambient: { kind: 'baseline' },
  ambientOffset: 0.3,
  drift: 0.5 / 600,
  timeBase: 5e-5,
  heating: null,
  shortestBaseline: 15,
  target: null,
  limit: null,
  endFraction: 0.1,
  marks: { baseline: null, cooling: null },
};
