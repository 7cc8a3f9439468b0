import type { SubmittedQuantity } from '../experiment/index.ts';

/** Which recording or condition a quantity is worked from. */
export type SubmissionPart = 'measured' | 'predicted';

/** @returns `measured` for what comes from a recording, `predicted` for what comes from the condition */
export function partOf(quantity: SubmittedQuantity): SubmissionPart {
  switch (quantity) {
    case 'point':
    case 'origin':
    case 'intercept':
    case 'standard-uncertainty':
    case 'expanded-uncertainty':
      return 'measured';
    default:
      return 'predicted';
  }
}

/** A value that a group handed in, SI. */
export interface SubmittedValue {
  readonly quantity: SubmittedQuantity;
  readonly value: number;
  /** Half of the last digit that was written, in the unit of the value; 0 for an exact one. */
  readonly rounding: number;
}

/** What a group handed in about one recording or one condition. */
export interface Submission {
  readonly group: string;
  /** Path of the recording; null where the values are about a condition. */
  readonly recording: string | null;
  readonly body: string | null;
  readonly flow: string | null;
  readonly values: readonly SubmittedValue[];
}

/** How far a value may be from the recomputed one. Half of the last digit that was written comes on top. */
export type Tolerance =
  | {
      readonly kind: 'percent';
      /** More than 0. */
      readonly percent: number;
      /** What the percentage is of: the recomputed value, the one handed in, or the mean of the two. */
      readonly of: 'expected' | 'submitted' | 'mean';
    }
  /** In standard uncertainties of the recomputed value. */
  | { readonly kind: 'uncertainties'; readonly factor: number };

/** A tolerance for each quantity; the usual one stands for those that are not named. */
export type Tolerances = Readonly<Partial<Record<SubmittedQuantity, Tolerance>>>;

function percent(value: number): Tolerance {
  return { kind: 'percent', percent: value, of: 'expected' };
}

/**
 * Tolerances where an instructor states none (common practice, no source): what a careful class differs by in the
 * choice of window, air properties and handbook values, and for uncertainties in what it counts.
 */
export const usualTolerances: Readonly<Record<SubmittedQuantity, Tolerance>> = {
  point: percent(5),
  origin: percent(5),
  intercept: percent(5),
  'standard-uncertainty': percent(30),
  'expanded-uncertainty': percent(30),
  reynolds: percent(5),
  nusselt: percent(5),
  'heat-transfer-coefficient': percent(8),
  predicted: percent(10),
  biot: percent(15),
  'predicted-standard-uncertainty': percent(30),
  'predicted-expanded-uncertainty': percent(30),
};
