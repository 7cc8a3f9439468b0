import { openRecordingFile } from '../archive/index.ts';
import {
  appendDecision,
  type Decision,
  type DecisionCircumstances,
  type DecisionHistory,
  type Marks,
  type NewDecision,
  type StoredDecision,
  traitsOf,
} from '../store/index.ts';
import type { AnalyzedFile } from './analyze-file.ts';
import { analyzedDetail, recordingDetail } from './detail.ts';
import type { DetailAnswer, DetailOrder } from './detail-work.ts';
import { essenceOf } from './essence.ts';
import { expectedOf } from './expected.ts';
import type { FolderEntry } from './folder-entry.ts';
import { isUnread, UnknownRecordingError } from './folder-errors.ts';
import { withMarks } from './found-marks.ts';
import { hashOf } from './kept-result.ts';
import { ListedFolder, type ListedFolderOptions } from './listed-folder.ts';
import { type AnalyzedEntry, foundMarks, OpenedEntries } from './opened-entries.ts';
import type { HeldFile } from './opened-files.ts';
import { previewAnalysis } from './preview.ts';
import { stretchOfReadings } from './readings.ts';
import { detailWithRig } from './rig-of-recording.ts';
import { type StepsInput, workedSteps, writtenSteps } from './steps.ts';
import type { WorkedSteps, WrittenStep } from './steps-types.ts';
import type { RecordingDetail, StretchOfReadings } from './types.ts';

/** What an analysis of a folder is opened with. */
export interface FolderAnalysisOptions extends ListedFolderOptions {
  /** Recordings to keep in memory, 4 where left out. */
  readonly held?: number;
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
export class FolderAnalysis extends ListedFolder {
  readonly #opened: OpenedEntries;

  constructor(folder: string, { held = 4, ...options }: FolderAnalysisOptions) {
    super(folder, options);
    this.#opened = new OpenedEntries(held);
  }

  /** Path of a recording's file. @throws UnknownRecordingError */
  fileOf(path: string): string {
    return this.entry(path).file;
  }

  /**
   * Everything about one recording, with the marks that count.
   *
   * @throws UnknownRecordingError; RecordingError, SensorError, ChainError where it cannot be read
   */
  async detail(path: string): Promise<RecordingDetail> {
    return this.#detail(await this.#analyzed(path));
  }

  /**
   * The same by somebody else, as by another thread; nothing of it is held in memory here.
   *
   * @returns null where it cannot be read
   * @throws UnknownRecordingError
   */
  async detailBy(
    path: string,
    maker: (order: DetailOrder) => Promise<DetailAnswer>,
  ): Promise<RecordingDetail | null> {
    const entry = this.entry(path);
    if (await entry.isElsewhere()) throw new UnknownRecordingError(path);
    const traits = await traitsOf(entry.file);
    await entry.knowBytes(traits);
    const { file, read, chain, settings, ownSettings, key } = entry;
    const answer = await maker({ path, file, read, chain, settings, ownSettings });
    if (answer === null) return null;
    entry.identify(answer.sha256);
    // Other bytes or decisions than those that were asked about.
    if (entry.key !== key) return this.detail(path);
    if (!entry.writing && entry.result === null) {
      await entry.take(traits, answer.sha256, key, { kind: 'analyzed', essence: answer.essence });
      this.tell({ kind: 'recording', path });
    }
    return this.#together(entry, answer, traits?.modified ?? null);
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
      experiment: this.experiment,
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
    const entry = this.entry(path);
    const held = await this.#held(entry);
    const settings = withMarks(entry.ownSettings, marks);
    const analyzed = previewAnalysis(held.opened, held.coarse, settings);
    return this.#detail({ entry, held, analyzed });
  }

  /**
   * Readings of a stretch, °C.
   *
   * @param from s from the first sample
   * @param points most points, at least 1
   * @throws as `detail`
   */
  async readings(path: string, from: number, to: number, points: number): Promise<StretchOfReadings> {
    const held = await this.#held(this.entry(path));
    return stretchOfReadings(held.opened, { from, to }, points);
  }

  /**
   * Keeps a decision about a recording, and analyzes it by what then counts. Only marks need a recording that can be
   * read; a way of reading by which it cannot be read is not kept.
   *
   * @param circumstances who, why and when, from the caller's clock
   * @param kept told of the decision once it is on the disk, before the analysis
   * @returns all decisions about it, the first first
   * @throws DecisionError where it cannot be kept; as `detail`
   */
  async decide(
    path: string,
    decision: NewDecision,
    circumstances: Omit<DecisionCircumstances, 'sha256'>,
    kept: (decision: StoredDecision) => Promise<void> = async () => undefined,
  ): Promise<Decision[]> {
    const entry = this.entry(path);
    if (decision.kind === 'reading') await openRecordingFile(entry.file, decision.read);
    const sha256 = decision.kind === 'marks' ? (await this.#held(entry)).opened.recording.sha256 : null;
    const bytes = sha256 ?? (await hashOf(entry.file));
    if (bytes === null) throw new UnknownRecordingError(path);
    const stored = await appendDecision(this.folder, path, decision, { ...circumstances, sha256: bytes });
    const last = stored.at(-1);
    await entry.readDecisions();
    entry.identify(bytes);
    if (last !== undefined) await kept(last);
    await this.#analyzed(path).catch((error: unknown) => {
      if (!isUnread(error)) throw error;
      entry.wait();
      this.goOn();
    });
    // Also where its analysis is as before: what counts may not be.
    this.tell({ kind: 'recording', path });
    return entry.history.decisions;
  }

  /**
   * What was decided about a recording, also where it cannot be read.
   *
   * @throws UnknownRecordingError
   */
  async decided(path: string): Promise<DecisionHistory> {
    const entry = this.entry(path);
    await entry.knowBytes(await traitsOf(entry.file));
    return entry.history;
  }

  async #held(entry: FolderEntry): Promise<HeldFile> {
    const held = await this.#opened.held(entry);
    if (entry.waits) this.goOn();
    return held;
  }

  async #analyzed(path: string): Promise<AnalyzedEntry> {
    const found = await this.#opened.analyzed(this.entry(path));
    if (found.isNews) this.tell({ kind: 'recording', path });
    return found;
  }

  #detail({ entry, held, analyzed }: Omit<AnalyzedEntry, 'isNews'>): RecordingDetail {
    const part = analyzedDetail(entry.placed.path, analyzed, foundMarks(entry, held));
    const { timeConstant } = analyzed.decay;
    return this.#together(entry, { part, timeConstant, essence: essenceOf(analyzed) }, held.modified);
  }

  /** @param modified when the file was last written, ms since 1970 (UTC); null where that is not known */
  #together(
    entry: FolderEntry,
    { part, timeConstant, essence }: Omit<NonNullable<DetailAnswer>, 'sha256'>,
    modified: number | null,
  ): RecordingDetail {
    const { path, condition } = entry.placed;
    const listed = this.list().recordings.find((one) => one.path === path) ?? entry.summary(null);
    const { verdict, codes, strip, duration, startedAt } = essence;
    const detail = recordingDetail({
      summary: {
        ...listed,
        state: 'analyzed',
        message: null,
        note: entry.writing ? stillWritten : listed.note,
        timeConstant: essence.timeConstant,
        verdict,
        codes,
        strip,
        duration,
        startedAt,
      },
      part,
      timeConstant,
      predicted: this.experiment === null ? null : expectedOf(this.experiment, condition),
      decisions: entry.history.decisions,
    });
    return detailWithRig(detail, entry.rigRemarksOn(essence, modified));
  }
}

/** Of a recording that is looked at before it rests. */
const stillWritten =
  'It is still being written: this is what it said when the page asked for it. It counts when it rests.';
