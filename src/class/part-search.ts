import type { SubmittedQuantity } from '../experiment/index.ts';
import { type Calculated, type Hypothesis, hypothesesOf, rightWays } from './hypotheses.ts';
import { measuredCatalogue, rowOf, startShare } from './measured.ts';
import type { MeasuredFacts } from './measured-facts.ts';
import { predictedCatalogue } from './predicted.ts';
import type { PredictedFacts } from './student-chain.ts';
import type { SubmittedValue } from './submission.ts';

/** What a part of a submission is held against. */
export interface PartSearch {
  /** What right ways of working come to, the usual one first. */
  readonly right: readonly Calculated[];
  /** Those, every slip, and where it is asked for every pair of slips. */
  readonly hypotheses: (pairs: boolean) => readonly Hypothesis[];
  /** What right values may be off by beyond the tolerance, SI. */
  readonly slack: Calculated;
  /** Standard uncertainties of the right values, SI. */
  readonly uncertainties: Calculated;
}

/** What values of a recording are held against. */
export function measuredSearch(facts: MeasuredFacts, submitted: readonly SubmittedValue[]): PartSearch {
  const catalogue = measuredCatalogue(facts, submitted);
  const row = rowOf(facts.recording);
  return {
    right: rightWays(facts, catalogue),
    hypotheses: (pairs) => hypothesesOf(facts, catalogue, pairs),
    // The first reading below the level, or after the start, is late by up to one row of a sheet.
    slack: { point: row, origin: startShare * row },
    uncertainties: facts.standardUncertainties,
  };
}

/** What values of a condition are held against. */
export function predictedSearch(
  facts: PredictedFacts,
  submitted: readonly SubmittedValue[],
  all: readonly SubmittedValue[],
): PartSearch {
  const needed = submitted.some(({ quantity }) => quantity.startsWith('predicted-'));
  const catalogue = predictedCatalogue(facts, all, needed);
  return {
    right: rightWays(facts, catalogue),
    hypotheses: (pairs) => hypothesesOf(facts, catalogue, pairs),
    slack: {},
    uncertainties: { predicted: facts.prediction.timeConstant.standardUncertainty },
  };
}

/**
 * The right value that is next to a submitted one, on a scale of ratios; null where no right way comes to one of its
 * sign.
 *
 * @param among what right ways of working come to
 */
export function nextTo(
  { quantity, value }: SubmittedValue,
  among: readonly Calculated[],
): { readonly value: number; readonly way: Calculated } | null {
  let best: { readonly value: number; readonly way: Calculated } | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const way of among) {
    const right = way[quantity] ?? null;
    if (right === null) continue;
    // A value of the other sign, or none, is as far off as can be.
    const distance = right * value > 0 ? Math.abs(Math.log(value / right)) : Number.MAX_VALUE;
    if (distance >= least) continue;
    least = distance;
    best = { value: right, way };
  }
  return best;
}

/** Quantities of which one is worked from the other by the same way of working. */
export const workedFrom: Readonly<Partial<Record<SubmittedQuantity, SubmittedQuantity>>> = {
  'expanded-uncertainty': 'standard-uncertainty',
  'predicted-expanded-uncertainty': 'predicted-standard-uncertainty',
};
