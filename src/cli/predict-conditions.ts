import { type PredictedCondition, predictCondition } from '../experiment/index.ts';
import { readExperimentFile } from '../store/index.ts';
import { chosenConditions } from './predict-choice.ts';
import type { PredictCommandOptions } from './predict-command.ts';
import { presentPredictions } from './predict-present.ts';
import { type ExitStatus, inkFor, type Surroundings, startProgress } from './terminal.ts';

/**
 * The command `predict`.
 *
 * @returns 0, or 2 where a condition could not be predicted
 * @throws Error where the experiment file or an option cannot be used
 */
export async function predictConditions(
  folder: string,
  options: PredictCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { path, experiment } = await readExperimentFile(folder);
  const conditions = chosenConditions(experiment, options.condition ?? []);
  const progress = await startProgress(surroundings, Math.max(conditions.length, 1), 'predicting');
  const predicted: PredictedCondition[] = [];
  for (const condition of conditions) {
    predicted.push(predictCondition(experiment, condition));
    progress.update(predicted.length);
  }
  progress.stop();
  const { stdout, environment } = surroundings;
  const lines = options.json
    ? predicted.map((one) => JSON.stringify(predictionAsJson(one)))
    : presentPredictions({ path, experiment, predicted }, inkFor(stdout, environment));
  stdout.write(lines.map((line) => `${line}\n`).join(''));
  return predicted.every(({ ok }) => ok) ? 0 : 2;
}

/** A prediction as programs read it: SI, temperatures in K; null where an interval has no upper end. */
function predictionAsJson(one: PredictedCondition) {
  if (one.ok) return { condition: one.condition, ...one.prediction };
  const { condition, message, missing } = one;
  return { condition, error: { code: 'not-predicted', message, missing } };
}
