import type { PredictedFacts } from '../class/index.ts';
import { type Condition, type Experiment, entryOf, predictionFor } from '../experiment/index.ts';
import { predict } from '../prediction/index.ts';
import { parseQuantity } from '../quantity/index.ts';

/**
 * A condition as a class predicts it, for those who look for how values were come to.
 *
 * @returns null where the experiment file does not say enough for a prediction
 */
export function predictedFacts(experiment: Experiment, condition: Condition): PredictedFacts | null {
  const asked = predictionFor(experiment, condition);
  if (!asked.ok) return null;
  const { input, uncertainties, correlationAccuracy } = asked;
  try {
    return {
      input,
      prediction: predict(input, { uncertainties, correlationAccuracy, draws: 0 }),
      accuracy: correlationAccuracy,
      scale: scaleOf(experiment, condition.flow),
      readingHasLimits: experiment.meter?.accuracy !== undefined,
    };
  } catch (error) {
    // For inputs that no physics can be done with.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

const times: Readonly<Record<string, number>> = { s: 1, min: 60, h: 3600 };

/** What a unit of the meter's scale counts: m³, and s. */
function scaleOf({ flows }: Experiment, flow: string): PredictedFacts['scale'] {
  const setting = entryOf(flows, flow);
  if (setting?.kind !== 'metered' || setting.counts !== 'volume') return null;
  const [written = ''] = setting.written.split(/\s*(?:\+-|\+\/-|±)/);
  const parsed = parseQuantity(written, 'flow');
  const time = parsed.ok ? times[parsed.unit.symbol.split('/').at(-1) ?? ''] : undefined;
  return parsed.ok && time !== undefined ? { volume: parsed.unit.factor * time, time } : null;
}
