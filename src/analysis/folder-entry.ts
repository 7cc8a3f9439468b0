import { join } from 'node:path';
import type { DecaySettings } from '../decay/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { ReadOptions } from '../recording/index.ts';
import { type Remark, type RemarkCode, type RemarkKind, remarkCatalogue } from '../remark/index.ts';
import type { RigCheck } from '../rig/index.ts';
import {
  DecisionError,
  type DecisionHistory,
  decisionHistory,
  type FileTraits,
  leadsOut,
  readDecisions,
  type StoredDecision,
  traitsOf,
} from '../store/index.ts';
import type { Essence } from './essence.ts';
import { noMarks, withMarks } from './found-marks.ts';
import { type KeptResults, keptSingly } from './kept-book.ts';
import { hashOf, type ListResult, resultKey, sameTraits } from './kept-result.ts';
import type { Analyst } from './list-work.ts';
import type { PlacedRecording } from './measure.ts';
import { type SaidRecording, unreadWords } from './recording-notes.ts';
import { rigRemarksOf, withRig } from './rig-of-recording.ts';
import { type SensorSettings, sensorSettings } from './sensor.ts';
import { experimentDecaySettings } from './settings.ts';
import type { RecordingSummary } from './types.ts';

/** What a recording's file does not tell. */
export interface EntryCircumstances {
  /** Checks of the rigs that count; none where left out. */
  readonly rigChecks?: readonly RigCheck[];
  /** Where its result is kept; in a file by itself where left out. */
  readonly kept?: KeptResults;
  /** Whether somebody still writes it, which it does not where left out: it then waits until it rests. */
  readonly writing?: boolean;
}

/** One recording of a folder and what is known of it. */
export class FolderEntry {
  readonly placed: PlacedRecording;
  /** Its text, or its file in the archive where that is all that is left. */
  readonly file: string;
  readonly writing: boolean;
  readonly experiment: Experiment;
  readonly #folder: string;
  #sha256: string | null = null;
  /** Of the file when its bytes were known last. */
  #traits: FileTraits | null = null;
  #result: ListResult | null = null;
  #decisions: readonly StoredDecision[] = [];
  #fault: string | null = null;
  readonly #rigChecks: readonly RigCheck[];
  readonly #kept: KeptResults;
  /** What they say of the result that is known. */
  #rig: { readonly of: ListResult; readonly remarks: readonly Remark[] } | null = null;

  constructor(
    folder: string,
    experiment: Experiment,
    placed: PlacedRecording,
    { rigChecks = [], kept = keptSingly(folder), writing = false }: EntryCircumstances = {},
  ) {
    this.placed = placed;
    this.file = join(folder, placed.archived ?? placed.path);
    this.#folder = folder;
    this.experiment = experiment;
    this.#rigChecks = rigChecks;
    this.#kept = kept;
    this.writing = writing;
  }

  get sha256(): string | null {
    return this.#sha256;
  }

  /** Whether a link that leads out of the folder has taken its place since it was listed. */
  isElsewhere(): Promise<boolean> {
    return leadsOut(this.#folder, this.file);
  }

  /** Why its decisions cannot be read; null where they can. */
  get fault(): string | null {
    return this.#fault;
  }

  /** Null while it waits. */
  get result(): ListResult | null {
    return this.#result;
  }

  /** Whether it is to be analyzed. */
  get waits(): boolean {
    return this.#result === null && !this.writing;
  }

  /** What the checks of its rig say of the recording. */
  get rigRemarks(): readonly Remark[] {
    const of = this.#result;
    if (of?.kind !== 'analyzed') return [];
    if (this.#rig?.of === of) return this.#rig.remarks;
    const remarks = this.rigRemarksOn(of.essence, this.#traits?.modified ?? null);
    this.#rig = { of, remarks };
    return remarks;
  }

  /**
   * What they say of one of its analyses.
   *
   * @param modified when the file was last written, ms since 1970 (UTC); null where that is not known
   */
  rigRemarksOn(
    { startedAt, duration }: Pick<Essence, 'startedAt' | 'duration'>,
    modified: number | null,
  ): readonly Remark[] {
    return rigRemarksOf(this.experiment, this.#rigChecks, this.placed, { startedAt, duration, modified });
  }

  /** Cautions, what asks for a repeat, and what the checks of its rig say; nothing while it waits. */
  get said(): readonly SaidRecording[] {
    if (this.#result?.kind !== 'analyzed') return [];
    const { graver, codes } = this.#result.essence;
    return [...(graver ?? codes.map(byCatalogue)), ...this.rigRemarks];
  }

  /** How the file is read: as it says itself, but for what a person knows better. */
  get read(): ReadOptions {
    return this.history.reading ?? {};
  }

  /** @throws SensorError where the experiment file's reference junction cannot be understood */
  get chain(): SensorSettings {
    return sensorSettings(this.experiment);
  }

  /** How the recording is judged without a person's marks. */
  get ownSettings(): DecaySettings {
    return experimentDecaySettings(this.experiment, this.placed.condition.body);
  }

  get history(): DecisionHistory {
    return decisionHistory(this.#decisions, this.#sha256);
  }

  /** How the recording is judged, with the marks that count. */
  get settings(): DecaySettings {
    return withMarks(this.ownSettings, this.history.marks ?? noMarks);
  }

  get key(): string {
    return resultKey(this, this.settings);
  }

  /** Looks at the file, its decisions and what is kept of it, without reading the recording if nothing has changed. */
  async look(): Promise<void> {
    await this.readDecisions();
    if (this.writing) return;
    const traits = await traitsOf(this.file);
    const kept = await this.#kept.of(this.placed.path);
    if (traits === null || kept === null) {
      this.#settle(null, null, null);
      return;
    }
    const same = sameTraits(traits, kept.traits);
    const sha256 = same ? kept.sha256 : await hashOf(this.file);
    this.#settle(traits, sha256, null);
    if (sha256 !== kept.sha256 || this.#keyOrNull() !== kept.key) return;
    this.#result = kept.result;
    if (!same) await this.#kept.keep(this.placed.path, { ...kept, traits });
  }

  /** Reads what people decided about the recording anew. */
  async readDecisions(): Promise<void> {
    try {
      this.#decisions = await readDecisions(this.#folder, this.placed.path);
      this.#fault = null;
    } catch (error) {
      if (!(error instanceof DecisionError)) throw error;
      this.#decisions = [];
      // The page knows the folder by its name.
      this.#fault = error.message.replaceAll(join(this.#folder, '/'), '');
    }
  }

  /** Analyzes the recording for the list, if it waits. */
  async analyze(analyst: Analyst): Promise<void> {
    if (!this.waits) return;
    const traits = await traitsOf(this.file);
    await this.knowBytes(traits);
    try {
      const { read, chain, settings, key } = this;
      const { sha256, result } = await analyst({ file: this.file, read, chain, settings });
      // What was decided meanwhile asks for another analysis: it waits on.
      if (this.#keyOrNull() === key) await this.take(traits, sha256, key, result);
    } catch (error) {
      if (!(error instanceof Error)) throw error;
      this.#settle(traits, this.#sha256, { kind: 'unreadable', message: unreadWords(error) });
    }
  }

  /**
   * Takes over what an analysis found, and keeps it for the next time.
   *
   * @param key of the settings by which it was made
   */
  async take(
    traits: FileTraits | null,
    sha256: string | null,
    key: string,
    result: ListResult,
  ): Promise<void> {
    this.#settle(traits, sha256, result);
    if (traits === null || sha256 === null) return;
    await this.#kept.keep(this.placed.path, { traits, sha256, key, result });
  }

  /**
   * Decisions count for the bytes that they were made for: where there are any, finds out which bytes these are.
   *
   * @param traits of the file as it is now
   */
  async knowBytes(traits: FileTraits | null): Promise<void> {
    if (this.#decisions.length === 0) return;
    const known = traits !== null && this.#traits !== null && sameTraits(traits, this.#traits);
    if (this.#sha256 !== null && known) return;
    const sha256 = await hashOf(this.file);
    if (sha256 === null) return;
    this.identify(sha256);
    this.#traits = traits;
  }

  /** The bytes that were read, where nothing was known of them or others. */
  identify(sha256: string): void {
    if (this.#sha256 === sha256) return;
    this.#sha256 = sha256;
    this.#result = null;
  }

  /** What was found does not count any more. */
  wait(): void {
    this.#result = null;
  }

  /**
   * The recording as it stands in the list.
   *
   * @param copyOf the recording that it is a copy of
   */
  summary(copyOf: string | null): RecordingSummary {
    const { section, group, bench, body, flow, repeat } = this.placed.place;
    const result = this.#result;
    const essence = result?.kind === 'analyzed' ? result.essence : null;
    const { marks, rejected, decisions } = this.history;
    const summary: RecordingSummary = {
      path: this.placed.path,
      place: { section, group, bench, body, flow, repeat },
      state: this.writing ? 'writing' : (result?.kind ?? 'waiting'),
      message: result?.kind === 'unreadable' ? result.message : null,
      note: this.#fault ?? foreignWords(decisions, this.#sha256 !== null),
      timeConstant: essence?.timeConstant ?? null,
      verdict: essence?.verdict ?? null,
      codes: essence?.codes ?? [],
      strip: essence?.strip ?? null,
      decided: marks !== null || rejected !== null,
      rejected: rejected !== null,
      copyOf,
      duration: essence?.duration ?? null,
      startedAt: essence?.startedAt ?? null,
    };
    return withRig(summary, this.rigRemarks);
  }

  #settle(traits: FileTraits | null, sha256: string | null, result: ListResult | null): void {
    this.#traits = traits;
    this.#sha256 = sha256;
    this.#result = result;
  }

  #keyOrNull(): string | null {
    try {
      return this.key;
    } catch {
      return null;
    }
  }
}

/** A remark of which only the code was kept. */
function byCatalogue(code: string): SaidRecording {
  const known: Readonly<Record<string, RemarkKind>> = remarkCatalogue satisfies Record<
    RemarkCode,
    RemarkKind
  >;
  return { code, severity: 'caution', message: known[code]?.meaning ?? code, action: null };
}

/** Says that a decision about other bytes is left aside. */
function foreignWords(decisions: DecisionHistory['decisions'], known: boolean): string | null {
  const foreign = known && decisions.some(({ note }) => note?.startsWith('It was made for other bytes'));
  return foreign ? 'A decision about it was made for other bytes and does not count: decide again.' : null;
}
