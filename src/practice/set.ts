import {
  type Condition,
  conditionName,
  conditionsOf,
  type Experiment,
  parsePattern,
} from '../experiment/index.ts';
import type { PredictionInput } from '../prediction/index.ts';
import type { DialectName } from './bench-types.ts';
import { dialects } from './dialect.ts';
import { type DraftedRecording, plantFaults } from './fault-planting.ts';
import { groupTask } from './handed-in.ts';
import { drawsFor } from './labelled-draws.ts';
import { type Bench, benchOf } from './set-bench.ts';
import { practiceGroups } from './set-groups.ts';
import { setPaths } from './set-paths.ts';
import { describedConditions } from './set-physics.ts';
import { type Session, scheduledSessions, startTimes } from './set-schedule.ts';
import { drawTrial } from './set-trial.ts';
import {
  PracticeError,
  type PracticeGroup,
  type PracticeRecording,
  type PracticeSet,
  type PracticeWishes,
  type RecordingSource,
} from './set-types.ts';

/**
 * Ways of writing from which a reader gets unit and time without asking; a logger that began again has lost a part of
 * its baseline, which would be a fault.
 */
const practiceDialects: readonly DialectName[] = dialects
  .filter(({ name, statesRate, statesUnit, writesTime }) => {
    return statesUnit && (statesRate || writesTime) && name !== 'restarted';
  })
  .map(({ name }) => name);

/** Largest set and recording: beyond them a slip of the pen is likelier than a wish. */
const mostRecordings = 5000;
const mostSamples = 5_000_000;
/** Largest rate, Hz. */
const highestRate = 10_000;

/** Standard deviation of the room from session to session, K (common practice, no source). */
const roomSpread = 0.8;

/**
 * A set of practice recordings of an experiment: every condition, group and repeat, each with parameters of its own
 * that all come from one seed, and the faults that were asked for.
 *
 * The correlation is as far off as the file says it may be: one multiplier of the Nusselt number is the rig's truth,
 * with 2.5 % between benches, 2 % between groups and 1 % between trials.
 *
 * @param experiment as read from its file
 * @throws PracticeError where the file says too little, or the wishes cannot be met
 */
export function practiceSet(experiment: Experiment, wishes: PracticeWishes): PracticeSet {
  const { seed } = wishes;
  const conditions = chosenConditions(experiment, wishes.conditions);
  const inputs = describedConditions(experiment, conditions);
  const groups = practiceGroups(experiment, wishes.groups);
  const repeats = repeatsOf(experiment, wishes.repeats);
  checkSize(groups.length * conditions.length * repeats, wishes);
  const nusseltMultiplier = rigMultiplier(experiment, seed);
  const benches = benchesOf(seed, groups);
  const sessions = scheduledSessions(experiment, groups, wishes.date);
  const placed = groups.flatMap((group) =>
    conditions.flatMap((condition) =>
      Array.from({ length: repeats }, (_, i) => ({ group, condition, repeat: i + 1 })),
    ),
  );
  const { pattern, paths } = setPaths(withGroups(experiment, groups), placed, wishes.exercise);
  const drafted = placed.map((one, i): DraftedRecording => {
    const input = inputs.get(conditionName(one.condition));
    const bench = benches.get(one.group.bench);
    if (input === undefined || bench === undefined) throw new Error('a condition or bench was not prepared');
    const roomOffset = roomOffsetOf(seed, sessions.get(one.group.code));
    const rate = wishes.rate ?? experiment.logger?.rate ?? null;
    const draft = drawTrial({ ...one, experiment, seed, input, bench, nusseltMultiplier, roomOffset, rate });
    return { ...one, path: paths[i] ?? '', draft };
  });
  const recordings = finished(experiment, wishes, sessions, drafted, inputs);
  return {
    seed,
    pattern,
    nusseltMultiplier,
    benchMultipliers: Object.fromEntries(
      [...benches.values()].map(({ code, multiplier }) => [code, multiplier]),
    ),
    groups,
    conditions,
    repeats,
    recordings,
  };
}

/** Plants the faults, gives every trial its time of day, and puts each behind the path that shows it. */
function finished(
  experiment: Experiment,
  wishes: PracticeWishes,
  sessions: ReadonlyMap<string, Session>,
  drafted: readonly DraftedRecording[],
  inputs: ReadonlyMap<string, PredictionInput>,
): PracticeRecording[] {
  const planted = plantFaults(drafted, experiment, wishes);
  const timed = drafted.map(({ group }, i) => ({
    group: group.code,
    length: planted.trials[i]?.length ?? 0,
  }));
  const starts = startTimes(experiment, sessions, timed, wishes.seed);
  const sources = drafted.map(({ group, condition, repeat, draft }, i): RecordingSource => {
    const trial = planted.trials[i] ?? draft.trial;
    checkSamples(trial.length * trial.logger.rate, condition);
    return {
      group: group.code,
      condition,
      repeat,
      trial: { ...trial, logger: { ...trial.logger, startedAt: starts[i] ?? '' } },
      inputs: draft.inputs,
    };
  });
  return drafted.map(({ path, group, condition, repeat }, i) => {
    const source = sources[planted.sources[i] ?? i];
    if (source === undefined) throw new Error('a recording lost its trial');
    const faults = planted.faults[i] ?? [];
    const input = inputs.get(conditionName(condition));
    const task =
      faults.length > 0 || input === undefined
        ? null
        : groupTask(experiment, {
            seed: wishes.seed,
            group: group.code,
            input,
            trial: source.trial,
            expected: source.inputs.expectedTimeConstant,
            slips: null,
          });
    return { path, group, condition, repeat, source, faults, task };
  });
}

function chosenConditions(experiment: Experiment, wanted: readonly Condition[] | null): readonly Condition[] {
  const { measured } = conditionsOf(experiment);
  if (measured.length === 0) {
    throw new PracticeError('There are no conditions: list bodies and flows in the experiment file.');
  }
  if (wanted === null) return measured;
  const names = new Set(wanted.map(conditionName));
  const chosen = measured.filter((one) => names.has(conditionName(one)));
  if (chosen.length === names.size && chosen.length > 0) return chosen;
  throw new PracticeError(
    `Not all of these are measured conditions of the experiment file; it has ${measured.slice(0, 20).map(conditionName).join(', ')}.`,
  );
}

/** A file whose paths name no repeat expects one recording of each condition. */
function repeatsOf({ recordings, protocol }: Experiment, wanted: number | null): number {
  if (wanted !== null) {
    if (Number.isInteger(wanted) && wanted >= 1 && wanted <= 50) return wanted;
    throw new PracticeError(`There cannot be ${wanted} repeats: ask for 1 to 50.`);
  }
  const pattern = recordings === undefined ? null : parsePattern(recordings);
  const named =
    !pattern?.ok || pattern.tokens.some((token) => token.kind === 'name' && token.name === 'repeat');
  return named ? protocol.repeats : 1;
}

function checkSize(recordings: number, { rate }: PracticeWishes): void {
  if (recordings > mostRecordings) {
    throw new PracticeError(
      `That would be ${recordings} recordings; a set has at most ${mostRecordings}: ask for fewer groups, repeats or conditions.`,
    );
  }
  if (rate !== null && !(rate >= 0.1 && rate <= highestRate)) {
    throw new PracticeError(`A rate of ${rate} Hz is not simulated: ask for 0.1 Hz to 10 kHz.`);
  }
}

function checkSamples(samples: number, condition: Condition): void {
  if (samples <= mostSamples) return;
  throw new PracticeError(
    `A recording of ${conditionName(condition)} would have ${Math.round(samples / 1e6)} million readings; at most ${mostSamples / 1e6} million are simulated: ask for a lower rate.`,
  );
}

/** As far off as the file trusts the correlation: its accuracy over the coverage factor is a standard deviation. */
function rigMultiplier({ prediction }: Experiment, seed: string): number {
  const spread = Math.min(0.25, prediction.accuracy / prediction['coverage-factor']);
  return drawsFor(seed, 'rig').normal(1, spread);
}

function benchesOf(seed: string, groups: readonly PracticeGroup[]): ReadonlyMap<string, Bench> {
  const codes = [...new Set(groups.map(({ bench }) => bench))];
  return new Map(codes.map((code, i) => [code, benchOf(seed, code, i, practiceDialects)]));
}

function roomOffsetOf(seed: string, session: Session | undefined): number {
  return drawsFor(seed, 'room', session?.date ?? '').normal(0, roomSpread);
}

/** The experiment with the groups that were made up. */
function withGroups(experiment: Experiment, groups: readonly PracticeGroup[]): Experiment {
  const listed = groups.map(({ code, section }): [string, Experiment['groups'][string]] => {
    return [code, section === null ? {} : { section }];
  });
  return { ...experiment, groups: { ...Object.fromEntries(listed), ...experiment.groups } };
}
