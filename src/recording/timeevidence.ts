import type { Column } from './columns.ts';
import { RecordingError } from './error.ts';
import type { NumberStyle } from './number.ts';
import type { ReadOptions } from './options.ts';
import type { PreambleFacts } from './preamble.ts';
import { shownRows } from './shown.ts';

/** What the time plan is made from. */
export interface TimeEvidence {
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly string[])[];
  readonly style: NumberStyle;
  readonly facts: PreambleFacts;
  readonly options: ReadOptions;
  readonly name: string;
  readonly firstLine: number;
}

/** Refuses to guess the time, and shows the rows. */
export function refuseTime(
  evidence: TimeEvidence,
  code: 'rate-needed' | 'time-unit-needed' | 'time-unusable',
  what: string,
  mend: string,
): never {
  throw new RecordingError(
    code,
    evidence.name,
    evidence.firstLine,
    what,
    mend,
    shownRows(evidence.columns, evidence.firstLine),
  );
}
