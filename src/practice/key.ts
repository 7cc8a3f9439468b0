import type { Condition } from '../experiment/index.ts';
import type { BenchTrial, BenchTruth } from './bench-types.ts';
import type { HandedIn } from './handed-in.ts';
import type { PlantedFault, PracticeRecording, PracticeSet, TrialInputs } from './set-types.ts';

/** What a key says of one recording. SI, temperatures in °C, times in s. */
export interface KeyedRecording {
  /** From the folder that was handed out, with / between its parts. */
  readonly path: string;
  readonly sha256: string;
  readonly group: string;
  readonly section: string | null;
  readonly bench: string;
  /** What the path says. */
  readonly condition: Condition;
  readonly repeat: number;
  /** What the file shows in truth; the same but for exchanged labels and copied files. */
  readonly shows: { readonly group: string; readonly condition: Condition; readonly repeat: number };
  readonly faults: readonly PlantedFault[];
  /** What the group hands in about it, and the slips in that; null where it hands in nothing. */
  readonly handedIn: HandedIn | null;
  /** Of what the file shows. */
  readonly truth: BenchTruth;
  readonly inputs: TrialInputs;
  /** Everything that the simulation was given. */
  readonly trial: BenchTrial;
}

/** The truth about a set of practice recordings. */
export interface PracticeKey {
  readonly format: 'emberline practice key 1';
  /** Version of the program that made the set. */
  readonly version: string;
  readonly course: string | null;
  readonly seed: string;
  readonly pattern: string;
  /** What the rig's Nusselt number is over that of the correlation, and each bench's over that of the rig. */
  readonly nusseltMultiplier: number;
  readonly benchMultipliers: Readonly<Record<string, number>>;
  readonly recordings: readonly KeyedRecording[];
}

/** What came of simulating and writing a recording. */
export interface WrittenRecording {
  readonly truth: BenchTruth;
  readonly sha256: string;
  readonly handedIn: HandedIn | null;
}

/** The key's entry for a recording. */
export function keyedRecording(recording: PracticeRecording, written: WrittenRecording): KeyedRecording {
  const { path, group, condition, repeat, source, faults } = recording;
  return {
    path,
    sha256: written.sha256,
    group: group.code,
    section: group.section,
    bench: group.bench,
    condition,
    repeat,
    shows: { group: source.group, condition: source.condition, repeat: source.repeat },
    faults,
    handedIn: written.handedIn,
    truth: written.truth,
    inputs: source.inputs,
    trial: source.trial,
  };
}

/** The key of a set. */
export function practiceKey(
  set: PracticeSet,
  about: { readonly version: string; readonly course: string | null },
  recordings: readonly KeyedRecording[],
): PracticeKey {
  const { seed, pattern, nusseltMultiplier, benchMultipliers } = set;
  return {
    format: 'emberline practice key 1',
    ...about,
    seed,
    pattern,
    nusseltMultiplier,
    benchMultipliers,
    recordings,
  };
}
