import type { SubmittedQuantity } from '../experiment/index.ts';
import type { MeasuredFacts } from './measured-facts.ts';
import type { Explanation } from './slip-search.ts';
import type { PredictedFacts } from './student-chain.ts';

/** What is known of what a group worked on; null where there is no usable recording, or no prediction. */
export interface SubmissionFacts {
  readonly measured: MeasuredFacts | null;
  readonly predicted: PredictedFacts | null;
}

/**
 * `within` and `outside` of the tolerance; `follows`: outside, and right given a slip that was made before;
 * `cannot-tell`: nothing to hold it against.
 */
type AssessedState = 'within' | 'outside' | 'follows' | 'cannot-tell';

/** A submitted value with what it should be, SI. */
export interface AssessedValue {
  readonly quantity: SubmittedQuantity;
  readonly submitted: number;
  readonly rounding: number;
  /** The right value that is next to the one handed in: there are several right ways of working. */
  readonly expected: number | null;
  readonly standardUncertainty: number | null;
  /** Submitted less expected, in percent of what the tolerance names. */
  readonly percent: number | null;
  readonly inUncertainties: number | null;
  readonly state: AssessedState;
  /** Slips that it comes from, by the best explanation; empty for one within the tolerance. */
  readonly slips: readonly string[];
}

/** What a group handed in, held against what its own recording and condition come to. */
export interface Assessment {
  /** In the order of `submittedQuantities`. */
  readonly values: readonly AssessedValue[];
  /** The most probable first, for the measured and for the predicted part; none where all values are within. */
  readonly explanations: readonly Explanation[];
  /** One for each part with values outside: what explains them, several things, or nothing. */
  readonly sentences: readonly string[];
}
