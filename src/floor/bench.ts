import { join } from 'node:path';
import type { FoundFile } from './discovery.ts';
import { FollowedTrial, type TrialRequest } from './followed-trial.ts';
import type { FileResult } from './results.ts';
import type { BenchTile, FinishedTrial } from './types.ts';
import { resultWords } from './words.ts';

/** How a bench is told what it needs. */
export interface BenchSources {
  readonly folder: string;
  /** @throws SensorError where the experiment file's sensor cannot be understood */
  request(file: FoundFile): TrialRequest;
  result(path: string): FileResult | null;
  /** Failed or stale checks of its rig, as sentences. */
  rig(file: FoundFile | null): readonly string[];
}

/** One bench: the file that it is at, and the trials of the session that are done. Times by our clock, ms. */
export class Bench {
  readonly name: string;
  readonly #sources: BenchSources;
  #file: FoundFile | null = null;
  #files: readonly FoundFile[] = [];
  #followed: FollowedTrial | null = null;
  #closing: Promise<void>[] = [];

  constructor(name: string, sources: BenchSources) {
    this.name = name;
    this.#sources = sources;
  }

  /** The file that is followed, as it was found last. */
  get file(): FoundFile | null {
    return this.#file;
  }

  /** Files of the session that are done; the one that is followed is among them when no more is to come. */
  get done(): readonly FoundFile[] {
    const current = this.#file;
    return this.#files.filter(({ path }) => path !== current?.path || this.#followed?.done === true);
  }

  /** Not the same as before where something about the bench is not. */
  get changes(): string {
    const followed = this.#followed;
    return `${this.#file?.path ?? ''} ${followed?.changes ?? 0} ${followed?.done ?? false} ${this.#files.length}`;
  }

  get trial() {
    return this.#followed?.trial ?? null;
  }

  /**
   * @param files of the bench and the session
   * @param current the one of them to follow
   */
  turnTo(files: readonly FoundFile[], current: FoundFile | null): void {
    this.#files = files;
    const same = current?.path === this.#file?.path;
    this.#file = current;
    if (same) return;
    this.#letGo();
    if (current !== null) this.#follow(current);
  }

  /** What is known of trials is not as it was: the one that is followed is judged anew. */
  judgeAnew(): void {
    this.#letGo();
    if (this.#file !== null) this.#follow(this.#file);
  }

  /** @param restedBefore for how long its file had not grown when it was first looked at, as far as is known */
  async look(now: number, restedBefore: number): Promise<void> {
    await this.#followed?.look(now, restedBefore);
  }

  /** @param quiet s since the file last grew; null where that is not known */
  tile(quiet: number | null): BenchTile {
    const file = this.#file;
    const place = file?.place ?? null;
    const trouble = this.#followed?.trouble ?? null;
    return {
      bench: this.name,
      group: place?.group ?? null,
      section: place?.section ?? null,
      condition: file?.placed?.condition ?? null,
      repeat: place?.repeat ?? null,
      path: file?.path ?? null,
      trial: this.trial,
      trouble: trouble ?? askedTrouble(file),
      quiet,
      trials: this.trials,
      rig: this.#sources.rig(file),
    };
  }

  /** The first first. */
  get trials(): readonly FinishedTrial[] {
    return this.done
      .toSorted((a, b) => a.modified - b.modified || (a.path < b.path ? -1 : 1))
      .flatMap((file) => {
        const result = this.#sources.result(file.path);
        return result === null ? [] : [finishedTrial(file, result)];
      });
  }

  /** When its file was seen to grow last; null where it was not. */
  get grown(): number | null {
    return this.#followed?.grown ?? this.#file?.changed ?? null;
  }

  async close(): Promise<void> {
    this.#letGo();
    await Promise.all(this.#closing);
  }

  #follow(file: FoundFile): void {
    this.#followed = new FollowedTrial(
      file.path,
      join(this.#sources.folder, file.path),
      this.#sources.request(file),
    );
  }

  #letGo(): void {
    if (this.#followed === null) return;
    const closing: Promise<void> = this.#followed.close().finally(() => {
      this.#closing = this.#closing.filter((one) => one !== closing);
    });
    this.#closing.push(closing);
    this.#followed = null;
  }
}

function askedTrouble(file: FoundFile | null): BenchTile['trouble'] {
  if (file === null || file.asked === null) return null;
  return {
    message: `The path ${file.path} does not say what is recorded. ${file.asked}`,
    mend: 'Name the file as the pattern of the experiment file asks, when the trial is over.',
  };
}

function finishedTrial(file: FoundFile, result: FileResult): FinishedTrial {
  const { timeConstant, standardUncertainty, verdict } = result;
  return {
    path: file.path,
    condition: file.placed?.condition ?? null,
    repeat: file.place?.repeat ?? null,
    timeConstant,
    standardUncertainty,
    verdict,
    words: resultWords(result),
  };
}
