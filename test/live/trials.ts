import { type DecaySettings, finishDecay, prepareDecay, usualDecaySettings } from '../../src/decay/index.ts';
import {
  type Condition,
  conditionsOf,
  type Experiment,
  entryOf,
  predictCondition,
} from '../../src/experiment/index.ts';
import { type BodyCandidate, rigCandidates } from '../../src/live/body-candidate.ts';
import { expectedBodies } from '../../src/live/body-expected.ts';
import type { EarlierRun } from '../../src/live/earlier-runs.ts';
import { type GateInput, type TrialContext, unknownContext } from '../../src/live/gate-input.ts';
import { gatesOf } from '../../src/live/gates.ts';
import type { Gate, GateCode, Phase } from '../../src/live/types.ts';
import {
  type BenchReadings,
  type FaultName,
  practiceSet,
  simulateRecording,
} from '../../src/practice/index.ts';
import { traceOf } from '../decay/trials.ts';
import { plainWishes, thornwickExperiment } from '../practice/wishes.ts';

/** The Thornwick course with loggers that write degrees. */
export const experiment: Experiment = withoutAmplifier(thornwickExperiment());

function withoutAmplifier(given: Experiment): Experiment {
  const { gain, ...sensor } = given.sensor;
  return gain === undefined ? given : { ...given, sensor };
}

/** A simulated trial with what it is said to be of. */
export interface SimulatedTrial {
  readonly readings: BenchReadings;
  readonly condition: Condition;
  readonly bench: string;
}

/** Trials of the course, one of each condition and group, all with a fault or none. */
export function trialsOf(
  seed: string,
  fault: FaultName | null,
  wishes: { conditions?: readonly Condition[]; groups?: number; rate?: number } = {},
): SimulatedTrial[] {
  const set = practiceSet(experiment, {
    ...plainWishes,
    seed,
    groups: wishes.groups ?? 1,
    rate: wishes.rate ?? 10,
    conditions: wishes.conditions ?? null,
    faults: fault === null ? [] : [{ name: fault, group: null }],
  });
  return set.recordings
    .filter(({ faults }) => fault === null || faults.length > 0)
    .map(({ source, condition, group }) => ({
      readings: simulateRecording(source.trial),
      condition,
      bench: group.bench,
    }));
}

/** How the course judges a trial of a body. */
export function settingsFor(body: string): DecaySettings {
  const { protocol, mains } = experiment;
  return {
    ...usualDecaySettings,
    mains,
    shortestBaseline: protocol.baseline,
    target: protocol.target ?? null,
    limit: entryOf(experiment.bodies, body)?.limit ?? protocol.limit ?? null,
    endFraction: protocol['end-fraction'],
    ambientOffset: protocol['ambient-offset'],
    drift: protocol.drift,
  };
}

const predictions = conditionsOf(experiment).measured.map((condition) =>
  predictCondition(experiment, condition, 0),
);

/** Every condition of the course as it is predicted. */
export const candidates: readonly BodyCandidate[] = rigCandidates(experiment, predictions);

/** What the course knows of a trial before it begins. */
export function contextOf(
  { condition, bench, readings }: SimulatedTrial,
  earlier: readonly EarlierRun[] = [],
): TrialContext {
  const found = predictions.find(
    ({ condition: { body, flow } }) => body === condition.body && flow === condition.flow,
  );
  const predicted = found?.ok ? found.prediction.timeConstant : null;
  return {
    ...unknownContext,
    ...condition,
    predicted,
    planned: predicted,
    bodies: expectedBodies(candidates, bench, earlier),
    plannedRate: readings.trial.logger.rate,
  };
}

/**
 * What the gates are judged by when a trial has been recorded up to a time: the phase by the simulator's own truth,
 * everything else from the readings so far.
 *
 * @param done whether nothing more will come
 */
export function inputAt(
  trial: SimulatedTrial,
  until: number,
  done: boolean,
  context: TrialContext = contextOf(trial),
): GateInput {
  const { trial: bench, truth, logged } = trial.readings;
  const stated = bench.logger.statedRate ?? bench.logger.rate;
  const count = Math.min(logged.length, Math.floor(until * bench.logger.rate) + 1);
  const trace = traceOf(logged.slice(0, count), stated);
  const settings = settingsFor(trial.condition.body);
  const prepared = prepareDecay(trace, settings);
  const decay = finishDecay(prepared);
  const { segments } = decay;
  const phase = phaseAt(truth.heatOn, truth.heatOff, until, done);
  const latest = (from: number) => {
    const part = logged.slice(Math.max(0, count - Math.ceil(from * bench.logger.rate)), count);
    return part.reduce((sum, t) => sum + t, 0) / part.length;
  };
  const second = latest(1);
  const before = 2 * latest(2) - second;
  const found = decay.timeConstant;
  return {
    phase,
    time: (count - 1) / stated,
    temperature: second,
    slope: second - before,
    ambient: decay.ambient?.value ?? prepared.cooling?.baseline?.mean ?? null,
    peak: segments.peak ?? { time: until, temperature: Math.max(...logged.slice(0, count)) },
    errorFraction: decay.endFraction,
    timeConstant: found === null ? null : { ...found },
    forecast: null,
    trace,
    settings,
    context,
    baseline: decay.baseline,
    recordedBefore: Math.min(until, truth.heatOn),
    cooling: segments.cooling,
    noise: decay.noise,
    adequacy: decay.adequacy,
    remarks: decay.remarks,
  };
}

function phaseAt(heatOn: number, heatOff: number, until: number, done: boolean): Phase {
  if (done) return 'done';
  if (until < heatOn) return 'baseline';
  return until < heatOff ? 'heating' : 'cooling';
}

/** The gates when a trial is over. */
export function gatesWhenDone(trial: SimulatedTrial, context?: TrialContext): Gate[] {
  return gatesOf(inputAt(trial, trial.readings.trial.length, true, context));
}

/** Codes of the gates that a trial missed. */
export function missedOf(gates: readonly Gate[]): GateCode[] {
  return gates.filter(({ state }) => state === 'missed').map(({ code }) => code);
}
