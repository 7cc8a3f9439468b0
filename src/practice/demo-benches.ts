import { type Condition, conditionName, type Experiment } from '../experiment/index.ts';
import type { DialectName } from './bench-types.ts';
import { PracticeError, type PracticeRecording, type PracticeSet } from './set-types.ts';

/** How the logger of each bench of the demo writes; a reader needs no hint for any of them. */
const dialectOf: Readonly<Record<string, DialectName>> = {
  'bench-1': 'plain-tab',
  'bench-2': 'semicolon-comma',
  'bench-3': 'date-time',
  'bench-4': 'key-values',
};

/** Whether the logger of a bench knows its sensor and writes degrees; the others write amplified volts. */
export function writesDegrees(bench: string): boolean {
  return bench === 'bench-3';
}

/** The experiment with loggers that are given degrees. */
export function withoutAmplifier(experiment: Experiment): Experiment {
  const { gain, ...sensor } = experiment.sensor;
  return gain === undefined ? experiment : { ...experiment, sensor };
}

/**
 * A set with each recording as the logger of the bench writes it where it was made.
 *
 * @throws PracticeError for a bench that the demo does not have
 */
export function asBenchesWrite(set: PracticeSet): PracticeSet {
  return { ...set, recordings: set.recordings.map(asWritten) };
}

function asWritten(recording: PracticeRecording): PracticeRecording {
  const { source } = recording;
  const { logger } = source.trial;
  const dialect = dialectOf[logger.bench];
  if (dialect === undefined) {
    const known = Object.keys(dialectOf).join(', ');
    throw new PracticeError(`The demo has no bench "${logger.bench}": its benches are ${known}.`);
  }
  return { ...recording, source: { ...source, trial: { ...source.trial, logger: { ...logger, dialect } } } };
}

/** Sets of one rig, by the same seed, as one; recordings in the order of their paths. */
export function oneSet(sets: readonly PracticeSet[]): PracticeSet {
  const [first] = sets;
  if (first === undefined) throw new PracticeError('There is nothing to put together.');
  const conditions = new Map<string, Condition>();
  for (const one of sets.flatMap((set) => set.conditions)) conditions.set(conditionName(one), one);
  const order = (a: string, b: string) => (a < b ? -1 : 1);
  return {
    ...first,
    benchMultipliers: Object.assign({}, ...sets.map(({ benchMultipliers }) => benchMultipliers)),
    groups: sets.flatMap(({ groups }) => groups).sort((a, b) => order(a.code, b.code)),
    conditions: [...conditions.values()],
    recordings: sets.flatMap(({ recordings }) => recordings).sort((a, b) => order(a.path, b.path)),
  };
}
