import { join } from 'node:path';
import {
  type Analyst,
  experimentDecaySettings,
  type PlacedRecording,
  type RecordingResult,
  recordingResult,
  sensorSettings,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { RigCheck } from '../rig/index.ts';
import type { FoundFile } from './discovery.ts';

/** What a whole file came to, by the analysis of whole files. */
export interface FileResult extends Pick<RecordingResult, 'excluded' | 'ambient'> {
  /** Null where the path does not say what the recording is of. */
  readonly summary: RecordingResult['summary'] | null;
  readonly timeConstant: number | null;
  readonly standardUncertainty: number | null;
  readonly verdict: 'usable' | 'usable-with-remarks' | 'repeat' | 'unreadable';
  /** Why it could not be read. */
  readonly unreadable: string | null;
}

interface Kept {
  /** Size and time of the file, and how often people's decisions were looked at. */
  readonly key: string;
  readonly result: FileResult;
}

/** The results of files that are done, analyzed one after another in the background. */
export class Results {
  readonly #folder: string;
  readonly #experiment: Experiment;
  readonly #analyst: Analyst;
  readonly #kept = new Map<string, Kept>();
  #waiting: readonly FoundFile[] = [];
  #rigChecks: readonly RigCheck[] = [];
  #round = 0;
  #working: Promise<void> | null = null;
  /** The file in hand, and the end of its analysis. */
  #inHand: { readonly path: string; readonly analyzed: Promise<unknown> } | null = null;
  #closed = false;
  #changes = 0;

  constructor(folder: string, experiment: Experiment, analyst: Analyst) {
    this.#folder = folder;
    this.#experiment = experiment;
    this.#analyst = analyst;
  }

  /** Counted up with every result that is new or not as it was. */
  get changes(): number {
    return this.#changes;
  }

  /** What a file came to; null where it is not known. What it came to before it was touched counts until it is. */
  of(path: string): FileResult | null {
    return this.#kept.get(path)?.result ?? null;
  }

  /**
   * Asks for the results of files, the first first; what was asked for before and is not done is let go of.
   *
   * @param rigChecks those that count
   */
  want(files: readonly FoundFile[], rigChecks: readonly RigCheck[]): void {
    this.#rigChecks = rigChecks;
    this.#waiting = files.filter((file) => this.#kept.get(file.path)?.key !== this.#key(file));
    if (this.#waiting.length > 0 && !this.#closed) this.#working ??= this.#work();
  }

  /** People may have decided something, or checked a rig: everything that is asked for is looked at again. */
  lookAgain(): void {
    this.#round += 1;
  }

  /** A file that is recorded into once more has no result. */
  forget(path: string): void {
    if (this.#kept.delete(path)) this.#changes += 1;
  }

  /**
   * Comes when nothing waits.
   *
   * @param among paths that are waited for; all where left out
   */
  async settled(among: ReadonlySet<string> | null = null): Promise<void> {
    while (this.#working !== null && this.#waits(among)) await this.#inHand?.analyzed;
  }

  #waits(among: ReadonlySet<string> | null): boolean {
    if (among === null) return true;
    const { path } = this.#inHand ?? { path: '' };
    return among.has(path) || this.#waiting.some((file) => among.has(file.path));
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.settled();
  }

  #key({ size, modified, placed }: FoundFile): string {
    // Only what is placed can be decided about.
    return `${size} ${modified} ${placed === null ? '' : this.#round}`;
  }

  async #work(): Promise<void> {
    // Whoever asks goes on first.
    await Promise.resolve();
    for (let file = this.#waiting[0]; file !== undefined && !this.#closed; file = this.#waiting[0]) {
      this.#waiting = this.#waiting.slice(1);
      const key = this.#key(file);
      const analyzed = this.#analyze(file);
      this.#inHand = { path: file.path, analyzed };
      const result = await analyzed;
      this.#inHand = null;
      const before = this.#kept.get(file.path);
      this.#kept.set(file.path, { key, result });
      if (JSON.stringify(before?.result) !== JSON.stringify(result)) this.#changes += 1;
    }
    this.#working = null;
  }

  async #analyze({ path, placed }: FoundFile): Promise<FileResult> {
    return placed === null ? this.#byProtocol(path) : this.#asListed(placed);
  }

  async #asListed(placed: PlacedRecording): Promise<FileResult> {
    const { summary, excluded, ambient } = await recordingResult(
      this.#folder,
      this.#experiment,
      placed,
      this.#rigChecks,
      this.#analyst,
    );
    return {
      summary,
      excluded,
      ambient,
      timeConstant: summary.timeConstant?.value ?? null,
      standardUncertainty: summary.timeConstant?.standardUncertainty ?? null,
      verdict:
        summary.state === 'unreadable'
          ? 'unreadable'
          : summary.rejected
            ? 'repeat'
            : (summary.verdict ?? 'unreadable'),
      unreadable: summary.message,
    };
  }

  /** Of a file of which nobody knows what it is of. */
  async #byProtocol(path: string): Promise<FileResult> {
    const { result } = await this.#analyst({
      file: join(this.#folder, path),
      read: {},
      chain: sensorSettings(this.#experiment),
      settings: experimentDecaySettings(this.#experiment, null),
    });
    const none = { summary: null, excluded: null, ambient: null, timeConstant: null };
    if (result.kind === 'unreadable') {
      return { ...none, standardUncertainty: null, verdict: 'unreadable', unreadable: result.message };
    }
    const { timeConstant, verdict, excluded, ambient } = result.essence;
    return {
      summary: null,
      excluded,
      ambient,
      timeConstant: timeConstant?.value ?? null,
      standardUncertainty: timeConstant?.standardUncertainty ?? null,
      verdict,
      unreadable: null,
    };
  }
}
