import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { chainWishes } from '../../src/cli/chain-wishes.ts';
import { decayWishes, OptionError } from '../../src/cli/wishes.ts';
import type { Decay } from '../../src/decay/index.ts';
import {
  type Condition,
  compareAll,
  conditionName,
  type Experiment,
  type PredictedCondition,
  poolRuns,
  predictCondition,
  runOf,
} from '../../src/experiment/index.ts';
import { practiceSet } from '../../src/practice/set.ts';
import type { PracticeRecording } from '../../src/practice/set-types.ts';
import { RecordingError } from '../../src/recording/index.ts';
import { readExperiment } from '../../src/store/index.ts';
import type { Desk } from './desk.ts';
import type { FaultCase, FaultOutcome } from './fault-outcome.ts';
import { record } from './record.ts';

const seen = { prediction: false, copies: false, unseen: null, recordings: 40 } as const;

/** Every fault that can be planted, and clean recordings of the same course. */
export const faultCases: readonly FaultCase[] = [
  { ...seen, name: 'none', remarks: [], recordings: 200 },
  { ...seen, name: 'baseline-short', remarks: ['baseline-short', 'baseline-missing'] },
  { ...seen, name: 'zero-drifted', remarks: ['zero-drift', 'baseline-unsteady'] },
  {
    ...seen,
    name: 'jet-off',
    remarks: ['coefficient-implausible'],
    prediction: true,
    unseen: 'A cooling in still air is a cooling; only the prediction says that it is too slow.',
  },
  { ...seen, name: 'jet-changed', remarks: ['not-first-order'] },
  { ...seen, name: 'heated-twice', remarks: ['heated-again'] },
  { ...seen, name: 'over-limit', remarks: ['peak-over-limit'] },
  { ...seen, name: 'stopped-early', remarks: ['cooling-short'] },
  { ...seen, name: 'clipped', remarks: ['clipped'] },
  {
    ...seen,
    name: 'wrong-thermocouple',
    remarks: ['temperature-implausible', 'peak-low', 'peak-over-limit', 'chain-out-of-range'],
    unseen:
      'Error fractions hardly change with the scale (time constants by 2 to 5 %): nothing but the temperatures themselves can look odd.',
  },
  {
    ...seen,
    name: 'wrong-rate',
    remarks: ['rate-disagrees'],
    prediction: true,
    unseen: 'Where rows state no time of their own, only the prediction says that the clock is off.',
  },
  { ...seen, name: 'melted-adhesive', remarks: ['not-first-order'] },
  {
    ...seen,
    name: 'spreadsheet-resaved',
    remarks: ['dates-suspect', 'numbers-guessed', 'coarse-resolution', 'sampling-uneven', 'time-repaired'],
    unseen:
      'Where all digits that matter survive, the file is one with decimal commas as some loggers write it; there is nothing to name and nothing lost.',
  },
  {
    ...seen,
    name: 'swapped',
    remarks: [],
    prediction: true,
    unseen:
      'Both recordings are good; only predictions that differ by more than their uncertainty tell them apart.',
  },
  { ...seen, name: 'same-file', remarks: [], copies: true, recordings: 30 },
];

/** The course of the example: metal spheres and a bare junction, volts of type T behind an amplifier. */
const courseFolder = join('examples', 'thornwick');
let course: Promise<Experiment> | null = null;
const predictions = new Map<string, PredictedCondition>();

/**
 * Plants a fault in a practice set of the example course, writes the recordings that have it, and analyzes each as
 * `emberline compare` does.
 *
 * @param number of the set
 * @param seed of the whole run
 */
export async function tryFault(
  desk: Desk,
  fault: FaultCase,
  number: number,
  seed: number,
): Promise<FaultOutcome[]> {
  course ??= readExperiment(courseFolder);
  const experiment = await course;
  const { name } = fault;
  const set = practiceSet(experiment, {
    seed: `proof ${seed} ${name} ${number}`,
    groups: 3,
    repeats: 1,
    conditions: null,
    rate: null,
    faults: name === 'none' ? [] : [{ name, group: null }],
    faultShare: 0,
    date: '2026-03-02',
    exercise: false,
  });
  const planted = set.recordings.filter(({ faults }) => faults.length > 0);
  const clean = set.recordings[(7 * number) % set.recordings.length];
  const chosen = name === 'none' ? (clean === undefined ? [] : [clean]) : planted;
  const files = chosen.map((recording) => ({ recording, ...record(recording.source.trial) }));
  const hashes = files.map(({ bytes }) => createHash('sha256').update(bytes).digest('hex'));
  const outcomes: FaultOutcome[] = [];
  for (const [i, { recording, bytes, readings }] of files.entries()) {
    const copied = hashes.some((hash, other) => other !== i && hash === hashes[i]);
    const truth = readings.truth.timeConstant;
    outcomes.push(await judged(desk, experiment, recording, bytes, { copied, truth }));
  }
  return outcomes;
}

async function judged(
  desk: Desk,
  experiment: Experiment,
  { condition }: PracticeRecording,
  bytes: Uint8Array,
  { copied, truth }: { readonly copied: boolean; readonly truth: number | null },
): Promise<FaultOutcome> {
  try {
    const { decay } = await desk.analyze(bytes, {
      read: {},
      chain: chainWishes({ body: condition.body }, experiment),
      settings: decayWishes({ body: condition.body }, experiment),
      zero: null,
    });
    return {
      remarks: decay.remarks.map(({ code, severity }) => ({ code, severity })),
      repeat: decay.verdict === 'repeat',
      disagrees: disagreement(experiment, condition, decay),
      copied,
      unread: null,
      covered: holds(decay.timeConstant?.interval ?? null, truth),
    };
  } catch (error) {
    if (!(error instanceof RecordingError || error instanceof OptionError)) throw error;
    return { remarks: [], repeat: true, disagrees: null, copied, unread: error.message, covered: null };
  }
}

function disagreement(experiment: Experiment, condition: Condition, decay: Decay): boolean | null {
  const run = runOf('recording', decay);
  const pooled = run === null ? null : poolRuns([run]);
  if (pooled === null) return null;
  const name = conditionName(condition);
  const prediction = predictions.get(name) ?? predictCondition(experiment, condition, 0);
  predictions.set(name, prediction);
  const [compared] = compareAll(experiment, [{ condition, pooled }], [prediction]);
  return compared?.comparison == null ? null : compared.comparison.verdict === 'disagree';
}

function holds(interval: readonly [number, number] | null, truth: number | null): boolean | null {
  if (interval === null || truth === null) return null;
  return interval[0] <= truth && truth <= interval[1];
}
