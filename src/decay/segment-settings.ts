import type { Span } from '../remark/index.ts';

/** How segments are to be found. Times in s, temperatures in °C. */
export interface SegmentSettings {
  /** Mains frequency, Hz. */
  readonly mains: number;
  /** Which heating to take, counted from 1; null for the last whose cooling is complete. */
  readonly heating: number | null;
  /** Whether an approach from below (a cold body warming, a step up) may be taken as the decay. */
  readonly allowWarming: boolean;
  /** Baseline marked by hand; wins over what is found. */
  readonly baseline: Span | null;
  /** Cooling marked by hand; wins over what is found. */
  readonly cooling: Span | null;
  /** Error fraction that a complete cooling reaches. */
  readonly endFraction: number;
  /** Smallest change that is taken for a heating, K. */
  readonly smallestStep: number;
}

/** 50 Hz mains; the last complete cooling down to a tenth; changes below 2 K are no heating. */
export const defaultSegmentSettings: SegmentSettings = {
  mains: 50,
  heating: null,
  allowWarming: false,
  baseline: null,
  cooling: null,
  endFraction: 0.1,
  smallestStep: 2,
};
