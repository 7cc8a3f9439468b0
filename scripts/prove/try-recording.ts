import { OptionError } from '../../src/cli/wishes.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { benchWishes, type Desk } from './desk.ts';
import { drawTrial, seedOf } from './draw-trial.ts';
import { type Outcome, outcomeOf, unreadOutcome } from './outcome.ts';
import { record } from './record.ts';
import type { Scenario } from './scenario.ts';

/**
 * One recording on its whole path: drawn, simulated, written, read, analyzed, held against the truth.
 *
 * @param scenario of which kind
 * @param place its number in the table, and that of the recording in it
 * @param base seed of the whole run
 */
export async function tryRecording(
  desk: Desk,
  scenario: Scenario,
  place: { readonly scenario: number; readonly recording: number },
  base: number,
): Promise<Outcome> {
  const seed = seedOf(base, place.scenario, place.recording);
  const { readings, bytes } = record(drawTrial(scenario, seed, place.recording));
  try {
    const { decay } = await desk.analyze(bytes, benchWishes);
    return outcomeOf(scenario, readings, decay);
  } catch (error) {
    if (!(error instanceof RecordingError || error instanceof OptionError)) throw error;
    return unreadOutcome(readings, error.message);
  }
}
