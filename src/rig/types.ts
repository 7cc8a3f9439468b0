/** What can be checked about a rig. */
export type RigCheckKind =
  | 'zero'
  | 'gain'
  | 'ice-point'
  | 'jet-temperature'
  | 'flow'
  | 'supply-pressure'
  | 'diameter'
  | 'mass';

/** A check of a bench, as somebody made it. */
export interface RigCheck {
  readonly id: string;
  /** ISO 8601 with a zone. */
  readonly at: string;
  readonly who: string;
  /** Bench that was checked; null where there is only one rig, or for what all benches share. */
  readonly bench: string | null;
  readonly kind: RigCheckKind;
  /** Code of the body or of the flow; null for what belongs to the bench itself. */
  readonly subject: string | null;
  /** SI: V at the logger, 1 (gain), °C, Pa absolute, m, kg; a flow as its meter counts: m³/s, kg/s, or m/s. */
  readonly value: number;
  /** As it was typed, for people. */
  readonly written: string;
  readonly note: string;
}

/** A check or reference run that was taken back: it was typed wrongly, or was of something else. It stays in the book. */
export interface RigWithdrawal {
  /** Of what was taken back. */
  readonly id: string;
  /** ISO 8601 with a zone. */
  readonly at: string;
  readonly who: string;
  readonly why: string;
}

/** All checks of an experiment's rigs, the first first. */
export interface RigBook {
  readonly checks: readonly RigCheck[];
  readonly withdrawn: readonly RigWithdrawal[];
}

/** What a reference run was expected to show when it was kept. */
export interface ExpectedReference {
  /** s, > 0 */
  readonly value: number;
  /** Standard uncertainty of its logarithm. */
  readonly relative: number;
  /** By theory, or by the earlier reference runs of the same bench, body and flow. */
  readonly source: 'prediction' | 'bench-mean';
}

/** An instructor's own trial at a bench, kept as what later trials are held against. */
export interface ReferenceRun {
  readonly id: string;
  /** When it was made, ISO 8601 with a zone. */
  readonly at: string;
  readonly who: string;
  /** Term in which it was made. */
  readonly term: string;
  /** Null where there is only one rig. */
  readonly bench: string | null;
  /** Path of the recording from the experiment folder, with / between its parts. */
  readonly recording: string;
  /** Of its bytes, hexadecimal. */
  readonly sha256: string;
  readonly body: string;
  readonly flow: string;
  /** s, > 0 */
  readonly timeConstant: number;
  /** s */
  readonly standardUncertainty: number;
  /** Of 95 %, s. */
  readonly interval: readonly [number, number];
  readonly expected: ExpectedReference | null;
  readonly note: string;
}

/** All reference runs of an experiment's rigs, the first first. */
export interface ReferenceBook {
  readonly runs: readonly ReferenceRun[];
  readonly withdrawn: readonly RigWithdrawal[];
}

/** `stale`: it was in order, but too long ago. */
export type RigState = 'in-order' | 'outside' | 'stale' | 'missing';

/** One check held against its limit. */
export interface RigStanding {
  readonly bench: string | null;
  readonly kind: RigCheckKind;
  readonly subject: string | null;
  readonly state: RigState;
  /** The latest; null where there is none. */
  readonly check: RigCheck | null;
  /** What it should be, and how far it may be off, SI; null where there is nothing to hold it against. */
  readonly expected: number | null;
  readonly tolerance: number | null;
  /** Both for people, in the unit of the check; null where there is nothing to hold it against. */
  readonly limitWords: string | null;
  /** How long a check is good for, s. */
  readonly goodFor: number;
  readonly source: 'experiment-file' | 'common-practice' | 'earlier-checks';
  /** One sentence: what was found, with number and limit. */
  readonly message: string;
  /** One sentence: what to do; null where it is in order. */
  readonly mend: string | null;
}
