import { basename } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { type Experiment, type PredictedCondition, predictCondition } from '../experiment/index.ts';
import { readRecordingFile } from '../recording/files.ts';
import { RecordingError } from '../recording/index.ts';
import { ChainError } from '../sensing/index.ts';
import {
  appendDecision,
  type Decision,
  type DecisionCircumstances,
  type DecisionHistory,
  ExperimentFileError,
  type Marks,
  type NewDecision,
  readExperiment,
} from '../store/index.ts';
import { type AnalyzedFile, analyzeOpened, openRecording } from './analyze-file.ts';
import { type FolderComparison, folderComparison } from './comparison.ts';
import { marksUsed, recordingDetail } from './detail.ts';
import { decidedOutcome, essenceOf, outcomeFrom } from './essence.ts';
import { FolderEntry } from './folder-entry.ts';
import { marksOf, withMarks } from './found-marks.ts';
import { hashOf, resultKey, traitsOf } from './kept-result.ts';
import { type Analyst, analyzeForList } from './list-work.ts';
import { findRecordings } from './measure.ts';
import { type HeldFile, OpenedFiles } from './opened-files.ts';
import { type AskedRecording, type Outcome, poolOutcomes, unreadOutcome } from './pool.ts';
import { coarseTrace, previewAnalysis } from './preview.ts';
import { stretchOfReadings } from './readings.ts';
import { checksThatCount, detailWithRig } from './rig-of-recording.ts';
import { SensorError } from './sensor-error.ts';
import { type StepsInput, workedSteps, writtenSteps } from './steps.ts';
import type { WorkedSteps, WrittenStep } from './steps-types.ts';
import type { RecordingDetail, RecordingSummary, StretchOfReadings } from './types.ts';

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

export interface FolderAnalysisOptions {
  /** Who analyzes for the list; in this thread where left out. */
  readonly analyst?: Analyst;
  /** How many recordings to give to it at once, 1 where left out. */
  readonly hands?: number;
  /** Recordings to keep in memory, 4 where left out. */
  readonly held?: number;
}

/** A recording that the folder does not have, or whose path does not say what it is of. */
export class UnknownRecordingError extends Error {
  override readonly name = 'UnknownRecordingError';
  readonly mend = 'Take one of the list; a file that is new appears there after the folder is read again.';

  constructor(path: string) {
    super(`There is no recording ${JSON.stringify(path.slice(0, 200))} in this experiment.`);
  }
}

/** A group that neither the experiment file nor the path of a recording names. */
export class UnknownGroupError extends Error {
  override readonly name = 'UnknownGroupError';
  readonly mend: string;

  /** @param known the groups that there are */
  constructor(group: string, known: readonly string[]) {
    super(`There is no group ${JSON.stringify(group.slice(0, 100))} in this experiment.`);
    const shown = known.slice(0, 30).map((one) => one.slice(0, 100));
    this.mend =
      shown.length === 0
        ? 'Ask for all recordings: none of them belongs to a group.'
        : `Take one of ${shown.join(', ')}${known.length > shown.length ? ' and others' : ''}.`;
  }
}

/**
 * Opens an experiment folder: summaries that were kept are there at once, the rest is analyzed in the background, one
 * recording after another. An experiment file with faults leaves the list empty until it is mended and `refresh` called.
 *
 * @param folder that holds experiment.yaml
 */
export async function openAnalysis(
  folder: string,
  options: FolderAnalysisOptions = {},
): Promise<FolderAnalysis> {
  const analysis = new FolderAnalysis(folder, options);
  await analysis.refresh();
  return analysis;
}

/** The analysis of an experiment folder, kept up to date for those who look at it. */
export class FolderAnalysis {
  readonly folder: string;
  readonly #analyst: Analyst;
  readonly #hands: number;
  readonly #inHand = new Set<FolderEntry>();
  readonly #files: OpenedFiles;
  readonly #listeners = new Set<(change: FolderChange) => void>();
  #experiment: Experiment | null = null;
  #entries: ReadonlyMap<string, FolderEntry> = new Map();
  #unplaced: readonly AskedRecording[] = [];
  #predictions = new Map<string, PredictedCondition>();
  #working: Promise<void> | null = null;
  #closed = false;

  constructor(folder: string, { analyst = analyzeForList, hands = 1, held = 4 }: FolderAnalysisOptions) {
    this.folder = folder;
    this.#analyst = analyst;
    this.#hands = hands;
    this.#files = new OpenedFiles(held);
  }

  /** Name of the folder, without its path. */
  get name(): string {
    return basename(this.folder);
  }

  /** Null while the experiment file has faults. */
  get experiment(): Experiment | null {
    return this.#experiment;
  }

  /** Reads the experiment file and the list of recordings again, and goes on with what is not analyzed. */
  async refresh(): Promise<void> {
    const experiment = await readExperiment(this.folder).catch((error: unknown) => {
      if (error instanceof ExperimentFileError) return null;
      throw error;
    });
    const found = experiment === null ? null : await findRecordings(this.folder, experiment, []);
    const rigChecks = experiment === null ? [] : await checksThatCount(this.folder);
    const entries = new Map<string, FolderEntry>();
    for (const placed of found?.placed ?? []) {
      if (experiment === null) continue;
      entries.set(placed.path, new FolderEntry(this.folder, experiment, placed, rigChecks));
    }
    await inTurns([...entries.values()], 16, (entry) => entry.look());
    this.#experiment = experiment;
    this.#entries = entries;
    this.#unplaced = found?.asked ?? [];
    this.#predictions = new Map();
    this.#tell({ kind: 'list' });
    this.#work();
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

  /** Whether the list has a recording. */
  has(path: string): boolean {
    return this.#entries.has(path);
  }

  /** Path of a recording's file. @throws UnknownRecordingError */
  fileOf(path: string): string {
    return this.#entry(path).file;
  }

  /**
   * Everything about one recording, with the marks that count.
   *
   * @throws UnknownRecordingError; RecordingError, SensorError, ChainError where it cannot be read
   */
  async detail(path: string): Promise<RecordingDetail> {
    const { entry, held, analyzed } = await this.#analyzed(path);
    return this.#detail(entry, held, analyzed);
  }

  /**
   * A recording's analysis as it stands, for whoever shows its steps.
   *
   * @throws as `detail`
   */
  async analysis(path: string): Promise<AnalyzedFile> {
    return (await this.#analyzed(path)).analyzed;
  }

  /**
   * The analysis of one recording worked through, with the marks that count.
   *
   * @throws as `detail`
   */
  async steps(path: string): Promise<WorkedSteps> {
    return workedSteps(await this.#stepsInput(path));
  }

  /**
   * The same before its formulas are set, for whoever sets them on paper.
   *
   * @param figures of an uncertainty; as the experiment file says where left out
   * @throws as `detail`
   */
  async writtenSteps(path: string, figures?: 1 | 2): Promise<WrittenStep[]> {
    return writtenSteps({ ...(await this.#stepsInput(path)), ...(figures && { figures }) });
  }

  async #stepsInput(path: string): Promise<StepsInput> {
    const { entry, analyzed } = await this.#analyzed(path);
    return {
      path,
      analyzed,
      request: { chain: entry.chain, settings: entry.settings, zero: null },
      experiment: this.#experiment,
      condition: entry.placed.condition,
    };
  }

  /**
   * Everything about one recording as it would be with other marks. Nothing is kept.
   *
   * @param marks null leaves what is found
   * @throws as `detail`
   */
  async preview(path: string, marks: Marks): Promise<RecordingDetail> {
    const entry = this.#entry(path);
    const held = await this.#held(entry);
    const settings = withMarks(entry.ownSettings, marks);
    const analyzed = previewAnalysis(held.opened, held.coarse, settings);
    return this.#detail(entry, held, analyzed);
  }

  /**
   * Readings of a stretch, °C.
   *
   * @param from s from the first sample
   * @param points most points, at least 1
   * @throws as `detail`
   */
  async readings(path: string, from: number, to: number, points: number): Promise<StretchOfReadings> {
    const held = await this.#held(this.#entry(path));
    return stretchOfReadings(held.opened, { from, to }, points);
  }

  /**
   * Keeps a decision about a recording, and analyzes it by what then counts. Only marks need a recording that can be
   * read; a way of reading by which it cannot be read is not kept.
   *
   * @param circumstances who, why and when, from the caller's clock
   * @returns all decisions about it, the first first
   * @throws DecisionError where it cannot be kept; as `detail`
   */
  async decide(
    path: string,
    decision: NewDecision,
    circumstances: Omit<DecisionCircumstances, 'sha256'>,
  ): Promise<Decision[]> {
    const entry = this.#entry(path);
    if (decision.kind === 'reading') await readRecordingFile(entry.file, decision.read);
    const sha256 = decision.kind === 'marks' ? (await this.#held(entry)).opened.recording.sha256 : null;
    const bytes = sha256 ?? (await hashOf(entry.file));
    if (bytes === null) throw new UnknownRecordingError(path);
    await appendDecision(this.folder, path, decision, { ...circumstances, sha256: bytes });
    await entry.readDecisions();
    entry.identify(bytes);
    await this.#analyzed(path).catch((error: unknown) => {
      if (!isUnread(error)) throw error;
      entry.wait();
      this.#work();
    });
    return entry.history.decisions;
  }

  /**
   * What was decided about a recording, also where it cannot be read.
   *
   * @throws UnknownRecordingError
   */
  async decided(path: string): Promise<DecisionHistory> {
    const entry = this.#entry(path);
    await entry.knowBytes(await traitsOf(entry.file));
    return entry.history;
  }

  /**
   * Everything that is analyzed, held against theory. What waits is among those that do not count.
   *
   * @param groups whose recordings to take; empty for all
   * @throws UnknownGroupError
   */
  comparison(groups: readonly string[] = []): FolderComparison {
    const experiment = this.#experiment;
    if (experiment === null) return { conditions: [], trends: [], left: [] };
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

  /** @returns ends the telling */
  onChange(listener: (change: FolderChange) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Comes when nothing waits any more. */
  async settled(): Promise<void> {
    while (this.#working !== null) await this.#working;
  }

  /** Ends the work in the background after the recording that is in hand. */
  async close(): Promise<void> {
    this.#closed = true;
    this.#listeners.clear();
    await this.settled();
  }

  #entry(path: string): FolderEntry {
    const entry = this.#entries.get(path);
    if (entry === undefined) throw new UnknownRecordingError(path);
    return entry;
  }

  #progress() {
    const entries = [...this.#entries.values()];
    return { done: entries.filter(({ result }) => result !== null).length, total: entries.length };
  }

  #tell(change: FolderChange): void {
    for (const listener of this.#listeners) listener(change);
  }

  #work(): void {
    if (this.#working !== null || this.#closed || this.#hands === 0) return;
    const hands = Array.from({ length: this.#hands }, () => this.#workThrough());
    this.#working = Promise.all(hands)
      .then(() => undefined)
      .finally(() => {
        this.#working = null;
        // The folder may have been read again while the last recording was in hand.
        if (this.#next() !== undefined) this.#work();
      });
  }

  async #workThrough(): Promise<void> {
    for (let entry = this.#next(); entry !== undefined && !this.#closed; entry = this.#next()) {
      this.#inHand.add(entry);
      await entry.analyze(this.#analyst).finally(() => this.#inHand.delete(entry));
      if (this.#entries.get(entry.placed.path) !== entry) continue;
      this.#tell({ kind: 'recording', path: entry.placed.path });
      this.#tell({ kind: 'progress', ...this.#progress() });
      await nextTurn();
    }
  }

  #next(): FolderEntry | undefined {
    for (const entry of this.#entries.values()) {
      if (entry.result === null && !this.#inHand.has(entry)) return entry;
    }
    return undefined;
  }

  /** The recording in memory; its bytes are known then. */
  async #held(entry: FolderEntry): Promise<HeldFile> {
    const traits = (await traitsOf(entry.file)) ?? { size: 0, modified: 0, changed: 0 };
    await entry.knowBytes(traits);
    const { read, chain, file } = entry;
    const key = resultKey({ read, chain }, null);
    const held = await this.#files.get(entry.placed.path, traits, key, async () => {
      const opened = await openRecording(file, { read, chain, zero: null });
      const known = entry.result?.kind === 'analyzed' ? entry.result.essence.timeConstant : null;
      return { opened, coarse: coarseTrace(opened.trace, known?.value ?? null), found: null, analyzed: null };
    });
    entry.identify(held.opened.recording.sha256);
    if (entry.result === null) this.#work();
    return held;
  }

  async #analyzed(path: string) {
    const entry = this.#entry(path);
    const held = await this.#held(entry);
    const { key, settings } = entry;
    const before = held.analyzed?.key === key ? held.analyzed.file : null;
    const analyzed = before ?? (await analyzeOpened(held.opened, settings));
    held.analyzed = { key, file: analyzed };
    if (before === null || entry.result === null) {
      const traits = await traitsOf(entry.file);
      const { sha256 } = analyzed.recording;
      await entry.take(traits, sha256, key, { kind: 'analyzed', essence: essenceOf(analyzed) });
      this.#tell({ kind: 'recording', path });
    }
    return { entry, held, analyzed };
  }

  #detail(entry: FolderEntry, held: HeldFile, analyzed: AnalyzedFile): RecordingDetail {
    const { path, condition } = entry.placed;
    const listed = this.list().recordings.find((one) => one.path === path) ?? entry.summary(null);
    const essence = essenceOf(analyzed);
    const { timeConstant, verdict, codes, strip, duration, startedAt } = essence;
    const detail = recordingDetail({
      summary: {
        ...listed,
        state: 'analyzed',
        message: null,
        timeConstant,
        verdict,
        codes,
        strip,
        duration,
        startedAt,
      },
      analyzed,
      predicted: this.#predicted(condition),
      found: foundMarks(entry, held),
      decisions: entry.history.decisions,
    });
    return detailWithRig(detail, entry.rigRemarks);
  }

  #predicted(condition: FolderEntry['placed']['condition']): PredictedCondition | null {
    if (this.#experiment === null) return null;
    const name = JSON.stringify([condition.body, condition.flow]);
    const known = this.#predictions.get(name) ?? predictCondition(this.#experiment, condition, 0);
    this.#predictions.set(name, known);
    return known;
  }
}

/** Whether an error says that a recording cannot be read, or not in degrees. */
function isUnread(error: unknown): boolean {
  return error instanceof RecordingError || error instanceof SensorError || error instanceof ChainError;
}

/** Marks as found without a person's, remembered with the recording. */
function foundMarks(entry: FolderEntry, held: HeldFile): Marks {
  const key = resultKey(entry, entry.ownSettings);
  if (held.found?.key === key) return held.found.marks;
  const marks =
    held.analyzed?.key === key
      ? marksUsed(held.analyzed.file)
      : marksOf(held.opened.trace, entry.ownSettings);
  held.found = { key, marks };
  return marks;
}

function outcomeOfEntry(experiment: Experiment, entry: FolderEntry): Outcome {
  const { placed, result, sha256, history } = entry;
  const { path, condition } = placed;
  // Nobody knows whether it was taken out.
  if (entry.fault !== null) return unreadOutcome(path, condition, new Error(entry.fault));
  if (result === null) return unreadOutcome(path, condition, new Error('It is not analyzed yet.'));
  if (result.kind === 'unreadable') return unreadOutcome(path, condition, new Error(result.message));
  return decidedOutcome(outcomeFrom(experiment, path, condition, sha256 ?? '', result.essence), history);
}

/** Does some work on many things, a few at a time. */
async function inTurns<T>(
  things: readonly T[],
  atOnce: number,
  work: (thing: T) => Promise<void>,
): Promise<void> {
  let next = 0;
  const hand = async () => {
    while (next < things.length) {
      const thing = things[next++];
      if (thing !== undefined) await work(thing);
    }
  };
  await Promise.all(Array.from({ length: atOnce }, hand));
}
