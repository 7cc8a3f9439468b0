import { type Calculated, type Hypothesis, hypothesesOf, rightWays } from './hypotheses.ts';
import { measuredCatalogue } from './measured.ts';
import type { MeasuredFacts } from './measured-facts.ts';
import { predictedCatalogue } from './predicted.ts';
import type { Freedom } from './slip-search.ts';
import type { PredictedFacts } from './student-chain.ts';
import type { SubmittedQuantity, SubmittedValue } from './submission.ts';

/** What a part of a submission is held against. */
export interface PartSearch {
  /** What right ways of working come to, the usual one first. */
  readonly right: readonly Calculated[];
  /** Those, every slip, and where it is asked for every pair of slips. */
  readonly hypotheses: (pairs: boolean) => readonly Hypothesis[];
  readonly freedom: Freedom;
  /** Standard uncertainties of the right values, SI. */
  readonly uncertainties: Calculated;
}

/** What the standard error changes by with the readings that a class takes in or leaves out. */
const uncertaintyFreedom = 0.1;

/** What values of a recording are held against. */
export function measuredSearch(facts: MeasuredFacts, submitted: readonly SubmittedValue[]): PartSearch {
  const catalogue = measuredCatalogue(facts, submitted);
  const right = rightWays(facts, catalogue);
  // Whoever takes the first reading below the level is late by up to one reading.
  const late = 1 / facts.recording.rate / Math.abs(right[0]?.point ?? Number.POSITIVE_INFINITY);
  return {
    right,
    hypotheses: (pairs) => hypothesesOf(facts, catalogue, pairs),
    // Where a class cuts its window and which reading it starts from.
    freedom: {
      point: Math.hypot(0.008, late),
      origin: 0.006,
      intercept: 0.008,
      'standard-uncertainty': uncertaintyFreedom,
      'expanded-uncertainty': uncertaintyFreedom,
    },
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
    // Another table of air properties, another handbook's specific heat.
    freedom: {
      reynolds: 0.012,
      nusselt: 0.01,
      'heat-transfer-coefficient': 0.015,
      predicted: 0.02,
      biot: 0.04,
      'predicted-standard-uncertainty': uncertaintyFreedom,
      'predicted-expanded-uncertainty': uncertaintyFreedom,
    },
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
