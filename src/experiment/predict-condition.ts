import { type Prediction, predict } from '../prediction/index.ts';
import type { Condition } from './conditions.ts';
import { type Missing, predictionFor } from './prediction-input.ts';
import type { Experiment } from './schema-keys.ts';

/** The prediction of one condition, or why there is none. */
export type PredictedCondition =
  | { readonly ok: true; readonly condition: Condition; readonly prediction: Prediction }
  | {
      readonly ok: false;
      readonly condition: Condition;
      /** One sentence: why not, and what to do. */
      readonly message: string;
      /** What the experiment file does not say; empty where it says something impossible. */
      readonly missing: readonly Missing[];
    };

/** Draws that settle the ends of an interval to 2 % of the standard uncertainty. */
const usualDraws = 20_000;

/**
 * Predicts the time constant of a condition from the experiment file.
 *
 * @param experiment as read from its file
 * @param condition codes of body and flow
 * @param draws of the Monte Carlo check, 0 for none
 */
export function predictCondition(
  experiment: Experiment,
  condition: Condition,
  draws: number = usualDraws,
): PredictedCondition {
  const asked = predictionFor(experiment, condition);
  if (!asked.ok) {
    const list = asked.missing.map(({ place, message }) => `under ${place.join(' › ')}, ${message}`);
    return {
      ok: false,
      condition,
      message: `The experiment file does not say enough: ${list.join('; ')}.`,
      missing: asked.missing,
    };
  }
  try {
    const { input, uncertainties, correlationAccuracy } = asked;
    const prediction = predict(input, { uncertainties, correlationAccuracy, draws });
    return { ok: true, condition, prediction };
  } catch (error) {
    // For inputs and for uncertainties that cannot be used.
    if (!(error instanceof RangeError)) throw error;
    return {
      ok: false,
      condition,
      message: `No prediction can be made: ${error.message} (in SI, temperatures in K).`,
      missing: [],
    };
  }
}
