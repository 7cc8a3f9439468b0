import type { CorrelationAccuracy, Prediction } from '../prediction/index.ts';
import type { BudgetChoices } from './chain-choices.ts';
import type { Calculated } from './hypotheses.ts';

/** What a budget is made from. */
interface BudgetFacts {
  readonly prediction: Prediction;
  readonly accuracy: CorrelationAccuracy;
  readonly readingHasLimits: boolean;
}

/** As it is taught for a prediction, where the degrees of freedom are endless (JCGM 100:2008, 6.3.3). */
const usualFactor = 2;

/**
 * Uncertainty of a predicted time constant as a student adds it up from the lines of the budget.
 *
 * @param predicted what the student's time constant came to, s: every line is a part of it
 */
export function predictedUncertainties(
  { prediction, accuracy, readingHasLimits }: BudgetFacts,
  predicted: number,
  choices: BudgetChoices,
): Calculated {
  const { budget, timeConstant } = prediction;
  const { relative, coverageFactor } = accuracy;
  const correlation = choices.correlationAs === 'standard' ? relative : relative / coverageFactor;
  const parts = budget.map(({ input, contribution }) => {
    const part = Math.abs(contribution) / timeConstant.value;
    if (input === 'nusseltFactor' && choices.correlationAs === 'standard') return part * coverageFactor;
    const limits = input === 'meterReading' && readingHasLimits && choices.limits === 'as-they-are';
    return limits ? part * Math.sqrt(3) : part;
  });
  const sum =
    choices.counted === 'correlation'
      ? correlation
      : choices.sum === 'squares'
        ? Math.hypot(...parts)
        : parts.reduce((total, part) => total + part, 0);
  const standard = predicted * sum;
  if (!(standard > 0 && Number.isFinite(standard))) {
    return { 'predicted-standard-uncertainty': null, 'predicted-expanded-uncertainty': null };
  }
  const expanded = usualFactor * standard;
  return {
    'predicted-standard-uncertainty': choices.standardIs === 'expanded' ? expanded : standard,
    'predicted-expanded-uncertainty': choices.expandedBy === 'two' ? expanded : standard,
  };
}
