import type { FaultName } from '../../src/practice/fault-names.ts';
import type { RemarkCode, Severity } from '../../src/remark/index.ts';

/** A kind of fault, and what names it. */
export interface FaultCase {
  readonly name: FaultName | 'none';
  /** Remarks of the analysis that name it, at any severity. */
  readonly remarks: readonly RemarkCode[];
  /** Whether a disagreement with the prediction of the experiment file is how it is named. */
  readonly prediction: boolean;
  /** Whether it is named by finding the same file twice. */
  readonly copies: boolean;
  /** Where one recording cannot show it for certain: why, and what does. */
  readonly unseen: string | null;
  readonly recordings: number;
}

/** What was said of a recording with a fault, or of a clean one. */
export interface FaultOutcome {
  readonly remarks: readonly { readonly code: RemarkCode; readonly severity: Severity }[];
  readonly repeat: boolean;
  /** Whether it disagrees with its prediction; null where they cannot be compared. */
  readonly disagrees: boolean | null;
  /** Whether another recording of the set is the same, byte for byte. */
  readonly copied: boolean;
  /** Why it could not be read; null where it could. */
  readonly unread: string | null;
  /** Whether the 95 % interval holds the true time constant; null where there is none of either. */
  readonly covered: boolean | null;
}

export interface FaultTried {
  readonly fault: FaultCase;
  readonly outcomes: readonly FaultOutcome[];
}

/** Whether a fault is named by what its outcome says. */
export function isNamed({ remarks, prediction, copies }: FaultCase, outcome: FaultOutcome): boolean {
  return (
    outcome.remarks.some(({ code }) => remarks.includes(code)) ||
    (prediction && outcome.disagrees === true) ||
    (copies && outcome.copied)
  );
}
