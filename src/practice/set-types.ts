import type { Condition } from '../experiment/index.ts';
import type { BenchTrial } from './bench-types.ts';
import type { FaultName } from './fault-names.ts';
import type { GroupTask } from './group-task.ts';

/** What a practice set shall hold. */
export interface PracticeWishes {
  /** Any text; everything in the set comes from it. */
  readonly seed: string;
  /** How many groups; null for those of the experiment file. */
  readonly groups: number | null;
  /** Trials of each condition; null for what the file says. */
  readonly repeats: number | null;
  /** Null for all measured ones. */
  readonly conditions: readonly Condition[] | null;
  /** Sampling rate, Hz; null for that of the file. */
  readonly rate: number | null;
  /** Faults asked for by name. */
  readonly faults: readonly FaultWish[];
  /** Part of the recordings that get a fault by chance, 0 to 1. */
  readonly faultShare: number;
  /** Day of the first session, as 2026-03-02. */
  readonly date: string;
  /** Whether each group has a folder of its own, ready to hand out. */
  readonly exercise: boolean;
}

/** One fault, in a recording of any group or of a certain one. */
export interface FaultWish {
  readonly name: FaultName;
  readonly group: string | null;
}

/** A group and where it works. */
export interface PracticeGroup {
  readonly code: string;
  readonly section: string | null;
  readonly bench: string;
  /** Whether the code was made up, for the experiment file has not so many groups. */
  readonly invented: boolean;
}

/** What is true of a trial and drawn for it: SI, temperatures in °C. */
export interface TrialInputs {
  readonly diameter: number;
  readonly density: number;
  readonly specificHeat: number;
  readonly conductivity: number;
  readonly emissivity: number;
  /** What the Nusselt number of the correlation was multiplied by, all parts together. */
  readonly nusseltMultiplier: number;
  /** Of the air at the body, m/s; 0 in still air. */
  readonly speed: number;
  readonly reynolds: number;
  /** W/(m² K). */
  readonly convection: number;
  /** Before the heating. */
  readonly ambient: number;
  readonly jetOffset: number;
  /** Time constant without the wires' own heat, by the mean coefficients, s: what the trial was laid out by. */
  readonly expectedTimeConstant: number;
  /** What the heating aimed at. */
  readonly aim: number;
}

/** A fault that was planted, with the numbers that it was given. */
export interface PlantedFault {
  readonly name: FaultName;
  /** By name with unit, as `baseline s`. */
  readonly numbers: Readonly<Record<string, number | string>>;
}

/** One recording of a set, before it is simulated. */
export interface PracticeRecording {
  /** From the folder of the set, with / between its parts. */
  readonly path: string;
  /** What the path says. */
  readonly group: PracticeGroup;
  readonly condition: Condition;
  readonly repeat: number;
  /** What it is in truth: another recording's trial where labels were exchanged or a file was handed on. */
  readonly source: RecordingSource;
  readonly faults: readonly PlantedFault[];
  /** What its group hands in about it is worked from; null for a recording with a fault, which it leaves out. */
  readonly task: GroupTask | null;
}

/** The trial that a file shows. */
export interface RecordingSource {
  readonly group: string;
  readonly condition: Condition;
  readonly repeat: number;
  readonly trial: BenchTrial;
  readonly inputs: TrialInputs;
}

/** A set of practice recordings. */
export interface PracticeSet {
  readonly seed: string;
  /** How the paths are built. */
  readonly pattern: string;
  /** Rig's truth over the correlation, shared by all. */
  readonly nusseltMultiplier: number;
  readonly benchMultipliers: Readonly<Record<string, number>>;
  readonly groups: readonly PracticeGroup[];
  readonly conditions: readonly Condition[];
  readonly repeats: number;
  readonly recordings: readonly PracticeRecording[];
}

/** Wishes or an experiment that no practice set can be made from; the message says what to change. */
export class PracticeError extends Error {
  override readonly name = 'PracticeError';
}
