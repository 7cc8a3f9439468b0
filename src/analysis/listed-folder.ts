import { basename } from 'node:path';
import type { ClassRecording } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { ExperimentFileError, readExperiment } from '../store/index.ts';
import { BackgroundWork } from './background-work.ts';
import { classRecording } from './class-recordings.ts';
import { type FolderComparison, folderComparison } from './comparison.ts';
import { expectedOf } from './expected.ts';
import { FolderEntry } from './folder-entry.ts';
import { UnknownGroupError, UnknownRecordingError } from './folder-errors.ts';
import { inTurns } from './in-turns.ts';
import { KeptBook } from './kept-book.ts';
import { type Analyst, analyzeForList } from './list-work.ts';
import { findRecordings } from './measure.ts';
import { outcomeOfEntry } from './outcome-of-entry.ts';
import { type AskedRecording, poolOutcomes } from './pool.ts';
import type { SaidRecording } from './recording-notes.ts';
import { checksThatCount } from './rig-of-recording.ts';
import { type TrialDetail, trialDetail } from './trial-detail.ts';
import type { RecordingSummary } from './types.ts';

/** The recordings of a folder as they stand. */
export interface FolderList {
  readonly recordings: RecordingSummary[];
  /** Files whose paths do not say what they are of. */
  readonly unplaced: AskedRecording[];
  readonly progress: { readonly done: number; readonly total: number };
}

/** What happened in a folder. `list`: recordings came or went. */
export type FolderChange =
  | { readonly kind: 'list' }
  | { readonly kind: 'recording'; readonly path: string }
  | { readonly kind: 'progress'; readonly done: number; readonly total: number };

/** What a folder is listed with. */
export interface ListedFolderOptions {
  /** Who analyzes for the list; in this thread where left out. */
  readonly analyst?: Analyst;
  /** How many recordings to give to it at once, 1 where left out. */
  readonly hands?: number;
}

/** The recordings of an experiment folder as a list that is worked on in the background, and what they come to together. */
export class ListedFolder {
  readonly folder: string;
  readonly #work: BackgroundWork;
  readonly #listeners = new Set<(change: FolderChange) => void>();
  #experiment: Experiment | null = null;
  /** Opened with the first list. */
  #kept: KeptBook | null = null;
  #entries: ReadonlyMap<string, FolderEntry> = new Map();
  #unplaced: readonly AskedRecording[] = [];

  constructor(folder: string, { analyst = analyzeForList, hands = 1 }: ListedFolderOptions) {
    this.folder = folder;
    this.#work = new BackgroundWork({
      analyst,
      hands,
      entries: () => this.#entries.values(),
      onDone: (entry) => this.#tellOf(entry),
    });
  }

  /** Name of the folder, without its path. */
  get name(): string {
    return basename(this.folder);
  }

  /** Null while the experiment file has faults. */
  get experiment(): Experiment | null {
    return this.#experiment;
  }

  /**
   * Reads the experiment file and the list of recordings again, and goes on with what is not analyzed.
   *
   * @param writing paths of recordings that somebody still writes: they wait until they rest
   */
  async refresh(writing: ReadonlySet<string> = new Set()): Promise<void> {
    const experiment = await readExperiment(this.folder).catch((error: unknown) => {
      if (error instanceof ExperimentFileError) return null;
      throw error;
    });
    const found = experiment === null ? null : await findRecordings(this.folder, experiment, []);
    const rigChecks = experiment === null ? [] : await checksThatCount(this.folder);
    const kept = this.#kept ?? (await KeptBook.open(this.folder));
    this.#kept = kept;
    const entries = new Map<string, FolderEntry>();
    for (const placed of found?.placed ?? []) {
      if (experiment === null) continue;
      const circumstances = { rigChecks, kept, writing: writing.has(placed.path) };
      entries.set(placed.path, new FolderEntry(this.folder, experiment, placed, circumstances));
    }
    await inTurns([...entries.values()], 16, (entry) => entry.look());
    await kept.settle();
    this.#experiment = experiment;
    this.#entries = entries;
    this.#unplaced = found?.asked ?? [];
    this.tell({ kind: 'list' });
    this.goOn();
  }

  /** The list as it stands; recordings that wait say so. */
  list(): FolderList {
    const originals = new Map<string, string>();
    const recordings = [...this.#entries.values()].map((entry) => {
      const { path } = entry.placed;
      const original = entry.sha256 === null ? undefined : originals.get(entry.sha256);
      if (entry.sha256 !== null && original === undefined) originals.set(entry.sha256, path);
      return entry.summary(original ?? null);
    });
    return { recordings, unplaced: [...this.#unplaced], progress: this.#progress() };
  }

  /**
   * Cautions of a recording, what asks for its repeat, and what the checks of its rig say; nothing while it waits.
   *
   * @throws UnknownRecordingError
   */
  said(path: string): readonly SaidRecording[] {
    return this.entry(path).said;
  }

  /**
   * What is kept of a recording's analysis beside its summary; null while it waits, or where it cannot be read.
   *
   * @throws UnknownRecordingError
   */
  keptDetail(path: string): TrialDetail | null {
    return trialDetail(this.entry(path));
  }

  /** Whether the list has a recording. */
  has(path: string): boolean {
    return this.#entries.has(path);
  }

  /**
   * Everything that is analyzed, held against theory. What waits is among those that do not count.
   *
   * @param groups whose recordings to take; empty for all
   * @throws UnknownGroupError
   */
  comparison(groups: readonly string[] = []): FolderComparison {
    const experiment = this.#experiment;
    if (experiment === null) return { conditions: [], trends: [], noted: [], left: [] };
    const entries = [...this.#entries.values()];
    const known = new Set([
      ...Object.keys(experiment.groups),
      ...entries.flatMap(({ placed }) => placed.place.group ?? []),
    ]);
    const unknown = groups.find((group) => !known.has(group));
    if (unknown !== undefined) throw new UnknownGroupError(unknown, [...known]);
    const wanted = new Set(groups);
    const groupOf = (path: string) => this.#entries.get(path)?.placed.place.group ?? null;
    const measured = poolOutcomes(
      entries.map((entry) => outcomeOfEntry(experiment, entry)),
      this.#unplaced,
      (path) => wanted.size === 0 || wanted.has(groupOf(path) ?? ''),
    );
    return folderComparison(experiment, measured, groupOf);
  }

  /** Every recording that is analyzed, as the class sees it. */
  classRecordings(): ClassRecording[] {
    const experiment = this.#experiment;
    if (experiment === null) return [];
    const entries = [...this.#entries.values()];
    const outcomes = entries.map((entry) => outcomeOfEntry(experiment, entry));
    const excluded = new Map(
      poolOutcomes(outcomes, []).recordings.map((one) => [one.path, one.excluded] as const),
    );
    const done = entries.filter(({ result, writing }) => result !== null && !writing);
    return done.map(({ placed, result, sha256 }) => {
      const { path, condition } = placed;
      const predicted = expectedOf(experiment, condition);
      const essence = result?.kind === 'analyzed' ? result.essence : null;
      const known = { placed, essence, sha256, excluded: excluded.get(path) ?? null };
      return classRecording(experiment, known, predicted, null);
    });
  }

  /** @returns ends the telling */
  onChange(listener: (change: FolderChange) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Comes when nothing waits any more. */
  settled(): Promise<void> {
    return this.#work.settled();
  }

  /** Ends the work in the background after the recording that is in hand. */
  async close(): Promise<void> {
    this.#listeners.clear();
    await this.#work.close();
    await this.#kept?.settle();
  }

  /** @throws UnknownRecordingError */
  protected entry(path: string): FolderEntry {
    const entry = this.#entries.get(path);
    if (entry === undefined) throw new UnknownRecordingError(path);
    return entry;
  }

  /** Analyzes what waits, in the background. */
  protected goOn(): void {
    this.#work.go();
  }

  #progress() {
    const entries = [...this.#entries.values()].filter(({ writing }) => !writing);
    return { done: entries.filter(({ waits }) => !waits).length, total: entries.length };
  }

  /** Tells everybody who listens. */
  protected tell(change: FolderChange): void {
    for (const listener of this.#listeners) listener(change);
  }

  #tellOf(entry: FolderEntry): void {
    const { path } = entry.placed;
    if (this.#entries.get(path) !== entry) return;
    this.tell({ kind: 'recording', path });
    this.tell({ kind: 'progress', ...this.#progress() });
  }
}
