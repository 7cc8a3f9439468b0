import type { BenchReadings, BenchTrial } from './bench-types.ts';
import { simulateBody } from './body.ts';
import { throughChain } from './chain.ts';
import { streamsOf } from './streams.ts';

/**
 * One trial, from the body in its air to the readings of the logger. All that is random comes from the trial's seed,
 * each part from a stream of its own: more noise in the chain leaves the body as it was, and the reverse.
 *
 * @param trial what is simulated; the same trial gives the same readings
 * @throws RangeError where the trial has a part that cannot be, or a thermocouple no emf at a temperature that occurs
 */
export function simulateRecording(trial: BenchTrial): BenchReadings {
  const streams = streamsOf(trial.seed);
  const { junction, truth } = simulateBody(trial, streams('body'));
  return { trial, truth, junction, logged: throughChain(junction, trial, streams) };
}
