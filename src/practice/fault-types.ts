import type { ThermocoupleType } from '../sensing/index.ts';
import type { BenchTrial } from './bench-types.ts';
import type { TrialFaultName } from './fault-names.ts';
import type { Draws } from './labelled-draws.ts';
import type { TrialDraft } from './set-trial.ts';

/** What a fault does to a trial: another trial, or why it cannot happen here. */
export type Spoiled =
  | {
      readonly ok: true;
      readonly trial: BenchTrial;
      readonly numbers: Readonly<Record<string, number | string>>;
    }
  | { readonly ok: false; readonly why: string };

/** What a fault starts from. */
export interface FaultBasis extends TrialDraft {
  /** Letter of the sensor that the experiment file names; null for none. */
  readonly thermocouple: ThermocoupleType | null;
}

/** A fault within one recording. */
export interface TrialFault {
  readonly name: TrialFaultName;
  /** What happened, and how large it is drawn. */
  readonly about: string;
  apply(basis: FaultBasis, draws: Draws): Spoiled;
}
