import { predictedFacts } from '../../src/analysis/chain-facts.ts';
import { experimentDecaySettings, sensorSettings } from '../../src/analysis/index.ts';
import { measuredFacts } from '../../src/analysis/student-facts.ts';
import {
  type Assessment,
  assessSubmission,
  type Explanation,
  type SubmissionFacts,
  type SubmittedValue,
} from '../../src/class/index.ts';
import { type Experiment, submittedQuantities } from '../../src/experiment/index.ts';
import { simulateRecording } from '../../src/practice/bench-trial.ts';
import type { GroupSlipName } from '../../src/practice/group-slips.ts';
import { groupTask, handedIn, sheetColumns } from '../../src/practice/handed-in.ts';
import { practiceSet } from '../../src/practice/set.ts';
import type { PracticeRecording } from '../../src/practice/set-types.ts';
import { recordingBytes } from '../../src/practice/write-recording.ts';
import type { Desk } from '../prove/desk.ts';

/** One recording of a class, analyzed as one of theirs would be, with what its group had before it. */
export interface Bench {
  readonly experiment: Experiment;
  readonly seed: string;
  readonly recording: PracticeRecording;
  readonly readings: ReturnType<typeof simulateRecording>;
  readonly facts: SubmissionFacts;
}

/** Readings a second: enough for every body, and quick. */
const rate = 20;

/**
 * Simulates a recording, writes it as a logger would, reads and analyzes it.
 *
 * @returns null where it cannot be worked with
 */
export async function benchOf(
  desk: Desk,
  experiment: Experiment,
  condition: PracticeRecording['condition'],
  seed: string,
): Promise<Bench | null> {
  const set = practiceSet(experiment, {
    seed,
    groups: 1,
    repeats: 1,
    conditions: [condition],
    rate,
    faults: [],
    faultShare: 0,
    date: '2026-03-02',
    exercise: false,
  });
  const recording = set.recordings[0];
  if (recording === undefined) throw new Error('a practice set has no recording');
  const readings = simulateRecording(recording.source.trial);
  const bytes = Buffer.concat([...recordingBytes(readings)]);
  const chain = sensorSettings(experiment);
  const settings = experimentDecaySettings(experiment, condition.body);
  const analyzed = await desk.analyze(bytes, { read: {}, chain, settings, zero: null });
  const measured = measuredFacts(analyzed, chain, experiment, true);
  const predicted = predictedFacts(experiment, condition);
  return measured === null ? null : { experiment, seed, recording, readings, facts: { measured, predicted } };
}

/** What became of values with slips in them. */
export type Outcome =
  /** Nothing is outside its tolerance. */
  | 'unseen'
  /** The slips are named first. */
  | 'first'
  /** Others are named first that give the same values, within what a class differs by. */
  | 'alike'
  /** Others are named first. */
  | 'other'
  /** None is named. */
  | 'none';

/** A case with what was said about it. */
export interface Tried {
  readonly slips: readonly GroupSlipName[];
  readonly outcome: Outcome;
  readonly assessment: Assessment;
  readonly submitted: readonly SubmittedValue[];
  /** What was named first for the part that the slips are in. */
  readonly named: string;
}

/**
 * Values of two explanations that differ by less than this are alike: what a class differs by in its choices. Of
 * uncertainties it is more, for nobody knows of how many readings they are.
 */
const likeness = 0.03;
const likenessOfUncertainty = 0.25;

/** A group hands in what it made of a recording, and that is assessed. */
export function tryCase(bench: Bench, slips: readonly GroupSlipName[], habit: string): Tried | null {
  const { experiment, recording, readings, facts } = bench;
  const { trial, inputs } = recording.source;
  const input = facts.predicted?.input;
  if (input === undefined) return null;
  const expected = inputs.expectedTimeConstant;
  const task = groupTask(experiment, { seed: habit, group: 'x', input, trial, expected, slips });
  if (task.slips.length < slips.length) return null;
  const submitted = submittedFrom(handedIn(readings, task).cells);
  const assessment = assessSubmission(facts, submitted);
  const { outcome, named } = outcomeOf(slips, assessment, submitted);
  return { slips, outcome, assessment, submitted, named };
}

/** The cells of a sheet as they are read, in SI: this sheet has no other units. */
function submittedFrom(cells: ReturnType<typeof handedIn>['cells']): SubmittedValue[] {
  return sheetColumns.flatMap((column, i) => {
    const text = cells[column];
    const quantity = submittedQuantities[i];
    if (text === undefined || quantity === undefined) return [];
    const value = Number(text);
    const decimals = /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
    const figures = Math.floor(Math.log10(Math.abs(value)));
    // Whole numbers that end in zeros count to their third figure.
    const place = decimals > 0 ? -decimals : Math.max(0, figures - 2);
    return [{ quantity, value, rounding: 0.5 * 10 ** place }];
  });
}

function outcomeOf(
  slips: readonly GroupSlipName[],
  { values, explanations }: Assessment,
  submitted: readonly SubmittedValue[],
): { readonly outcome: Outcome; readonly named: string } {
  const parts = (['measured', 'predicted'] as const).map((part) =>
    explanations.filter((one) => one.part === part),
  );
  const named = parts.flatMap(([best]) => best?.codes ?? []).filter((code) => !code.startsWith('from-own-'));
  const words = named.join(' + ');
  if (values.every(({ state }) => state === 'within')) return { outcome: 'unseen', named: words };
  if (same(named, slips)) return { outcome: 'first', named: words };
  const like = parts.every((list) => {
    const best = list[0];
    if (best === undefined) return true;
    const meant = list.find(({ codes }) => codes.length > 0 && codes.every((code) => isAmong(code, slips)));
    return meant !== undefined && alike(best, meant, submitted);
  });
  if (named.length === 0) return { outcome: 'none', named: words };
  return { outcome: like ? 'alike' : 'other', named: words };
}

function isAmong(code: string, slips: readonly string[]): boolean {
  return slips.includes(code);
}

function same(a: readonly string[], b: readonly string[]): boolean {
  return [...a].sort().join(' ') === [...b].sort().join(' ');
}

function alike(a: Explanation, b: Explanation, submitted: readonly SubmittedValue[]): boolean {
  return submitted.every(({ quantity }) => {
    const [one, other] = [a.values[quantity], b.values[quantity]];
    if (one === undefined || other === undefined || one === null || other === null) return one === other;
    const most = quantity.endsWith('uncertainty') ? likenessOfUncertainty : likeness;
    return Math.abs(one - other) <= most * Math.max(Math.abs(one), Math.abs(other));
  });
}
