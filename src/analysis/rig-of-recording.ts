import { isAbsolute } from 'node:path';
import { type Condition, type Experiment, type RecordingPlace, recordingPlace } from '../experiment/index.ts';
import type { Remark } from '../remark/index.ts';
import { countingChecks, countingRuns, type ReferenceRun, type RigCheck, rigRemarks } from '../rig/index.ts';
import { RigCheckError, readReferenceRuns, readRigChecks } from '../store/index.ts';
import type { AnalyzedFile } from './analyze-file.ts';
import type { Outcome } from './pool.ts';
import type { RecordingDetail, RecordingSummary } from './types.ts';
import { verdictWords } from './words.ts';

/** What tells when a recording was made. */
export interface RecordingTimes {
  /** As its file states it, in ISO 8601; in the zone of this machine where it names none. */
  readonly startedAt: string | null;
  /** s */
  readonly duration: number;
  /** When the file was last written, ms since 1970 (UTC); null where that is not known. */
  readonly modified: number | null;
}

/**
 * When a recording began: as its file says, else its length before the file was last written.
 *
 * @returns ms since 1970 (UTC); NaN where neither is known
 */
export function beganAt({ startedAt, duration, modified }: RecordingTimes): number {
  const stated = startedAt?.includes('T') ? Date.parse(startedAt) : Number.NaN;
  if (Number.isFinite(stated)) return stated;
  return modified === null ? Number.NaN : modified - duration * 1000;
}

/** What the checks of its rig say of a recording. */
export function rigRemarksOf(
  experiment: Experiment,
  checks: readonly RigCheck[],
  { place, condition }: { readonly place: RecordingPlace; readonly condition: Condition },
  times: RecordingTimes,
): Remark[] {
  const { bench, group } = place;
  return rigRemarks(experiment, checks, { bench, group, ...condition, began: beganAt(times) });
}

/**
 * An analysis with what the checks of its rig say among its remarks. A recording from outside of the folder, or whose
 * path does not say what it is of, stays as it is.
 *
 * @param path from the experiment folder, with / between its parts
 * @param modified when the file was last written, ms since 1970 (UTC); null where that is not known
 */
export function analyzedWithRig(
  analyzed: AnalyzedFile,
  experiment: Experiment,
  checks: readonly RigCheck[],
  path: string,
  modified: number | null,
): AnalyzedFile {
  if (checks.length === 0 || isAbsolute(path) || path.startsWith('../')) return analyzed;
  const place = recordingPlace(experiment, path);
  if (place.kind === 'asked') return analyzed;
  const { startedAt, duration } = analyzed.recording;
  const began = beganAt({ startedAt, duration, modified });
  const { bench, group, body, flow } = place;
  const remarks = rigRemarks(experiment, checks, { bench, group, body, flow, began });
  if (remarks.length === 0) return analyzed;
  const { decay } = analyzed;
  const verdict = verdictWith(decay.verdict, remarks);
  return { ...analyzed, decay: { ...decay, verdict, remarks: [...decay.remarks, ...remarks] } };
}

/** A recording in a list with what its rig says: the codes, and no verdict without remarks over a failed check. */
export function withRig(summary: RecordingSummary, remarks: readonly Remark[]): RecordingSummary {
  if (remarks.length === 0) return summary;
  const codes = [...new Set([...summary.codes, ...remarks.map(({ code }) => code)])];
  return { ...summary, codes, verdict: verdictWith(summary.verdict, remarks) };
}

/** Everything about a recording with what its rig says. */
export function detailWithRig(detail: RecordingDetail, remarks: readonly Remark[]): RecordingDetail {
  if (remarks.length === 0) return detail;
  const { codes, verdict } = withRig(detail, remarks);
  const figure =
    verdict === null || verdict === detail.verdict
      ? detail.figure
      : { ...detail.figure, verdict: verdictWords[verdict] };
  return { ...detail, codes, verdict, figure, remarks: [...detail.remarks, ...remarks] };
}

/** An outcome with what its rig says, in a sentence each. */
export function outcomeWithRig(outcome: Outcome, remarks: readonly Remark[]): Outcome {
  if (remarks.length === 0) return outcome;
  const notes = remarks.map(({ code, severity, message }) => ({ code, severity, message }));
  const { recording } = outcome;
  return { ...outcome, recording: { ...recording, notes: [...recording.notes, ...notes] } };
}

/** A failed check leaves no verdict without remarks. */
function verdictWith<V extends RecordingSummary['verdict']>(
  verdict: V,
  remarks: readonly Remark[],
): V | 'usable-with-remarks' {
  const failed = remarks.some(({ severity }) => severity === 'caution');
  return verdict === 'usable' && failed ? 'usable-with-remarks' : verdict;
}

/** The checks of the rigs of a folder that count; none where their file cannot be read, which the rigs' place says. */
export async function checksThatCount(folder: string): Promise<readonly RigCheck[]> {
  return countingChecks(
    await readRigChecks(folder).catch((error: unknown) => {
      if (error instanceof RigCheckError) return { checks: [], withdrawn: [] };
      throw error;
    }),
  );
}

/** The reference runs of a folder that count; none where their file cannot be read, which the rigs' place says. */
export async function referenceRunsThatCount(folder: string): Promise<readonly ReferenceRun[]> {
  return countingRuns(
    await readReferenceRuns(folder).catch((error: unknown) => {
      if (error instanceof RigCheckError) return { runs: [], withdrawn: [] };
      throw error;
    }),
  );
}
