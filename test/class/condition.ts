import type { PredictedFacts } from '../../src/class/index.ts';
import { predictionFor } from '../../src/experiment/index.ts';
import { predict } from '../../src/prediction/index.ts';
import { thornwickExperiment } from '../practice/wishes.ts';

/** A condition of the Thornwick course, whose meter counts litres a minute. */
export function thornwickCondition(body: string, flow: string): PredictedFacts {
  const asked = predictionFor(thornwickExperiment(), { body, flow });
  if (!asked.ok) throw new Error('the course does not describe this condition');
  const { input, uncertainties, correlationAccuracy } = asked;
  return {
    input,
    prediction: predict(input, { uncertainties, correlationAccuracy, draws: 0 }),
    accuracy: correlationAccuracy,
    scale: { volume: 1e-3, time: 60 },
    readingHasLimits: true,
  };
}
