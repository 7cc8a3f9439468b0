import type { ChainChoices } from './chain-choices.ts';
import { choosing, type Slip } from './hypotheses.ts';
import type { PredictedFacts } from './student-chain.ts';

/** A slip between a condition and its predicted time constant. */
export type PredictedSlip = Slip<ChainChoices, PredictedFacts>;

/**
 * A slip that makes certain choices.
 *
 * @param possible whether the condition allows it
 */
export function when(
  possible: (facts: PredictedFacts) => boolean,
  change: Partial<ChainChoices>,
): PredictedSlip['apply'] {
  const choose = choosing(change);
  return (choices, facts) => (possible(facts) ? choose(choices) : null);
}
