import type { FolderComparison, RecordingSummary, TrialDetail } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';

/** A trial as it goes into a table of results. */
export interface ExportedTrial {
  /** As in the list of all. */
  readonly summary: RecordingSummary;
  /** Null where it cannot be read, or only the list is asked for: what it alone knows stays empty. */
  readonly detail: TrialDetail | null;
}

/** What an export is made from, so that it can be made again. The same as that of a document. */
export interface ExportOrigin {
  readonly course: string;
  /** Of Emberline. */
  readonly version: string;
  /** SHA-256 of experiment.yaml, hexadecimal. */
  readonly experimentHash: string;
}

/** What a table of results is made from. */
export interface ResultsInput {
  readonly origin: ExportOrigin;
  readonly experiment: Experiment;
  /** One a row, in this order. */
  readonly trials: readonly ExportedTrial[];
  /** Of all recordings of the folder: it says which trials do not count, and why. */
  readonly comparison: FolderComparison;
  /** Names by group code, only where somebody asked for them by giving a list; else null. */
  readonly names: ReadonlyMap<string, string> | null;
}

/** How a table of results can be written. */
export type ResultsFormat = 'csv' | 'json' | 'parquet' | 'xlsx';

/** A file to be put somewhere. */
export interface ExportFile {
  /** Plain name without a folder. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A file that was asked for, with what a browser and a person are told about it. */
export interface MadeFile extends ExportFile {
  /** Media type. */
  readonly type: string;
  /** Sentences: what of the input could not be used, or how the content was thinned. */
  readonly remarks: readonly string[];
}
