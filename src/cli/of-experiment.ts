import { stat } from 'node:fs/promises';
import { isAbsolute, join } from 'node:path';
import {
  type AnalysisRequest,
  type AnalyzedFile,
  analyzedWithRig,
  checksThatCount,
  fromFolder,
  type Keeper,
  keeperFor,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { RigCheck } from '../rig/index.ts';
import { readExperiment, recordingSource } from '../store/index.ts';
import { type DecidedRequest, withDecisions } from './decided.ts';
import type { AnalyzeOptions } from './wishes.ts';

/** An experiment that recordings belong to. */
export class OfExperiment {
  readonly #folder: string;
  readonly file: Experiment;
  /** Checks of its rigs that count. */
  readonly #rigChecks: readonly RigCheck[];

  private constructor(folder: string, file: Experiment, rigChecks: readonly RigCheck[]) {
    this.#folder = folder;
    this.file = file;
    this.#rigChecks = rigChecks;
  }

  /** @throws Error where the experiment file or the checks of its rigs cannot be read */
  static async in(folder: string): Promise<OfExperiment> {
    return new OfExperiment(folder, await readExperiment(folder), await checksThatCount(folder));
  }

  /** What people decided about a recording, under the options. @throws DecisionError */
  decided(path: string, request: AnalysisRequest, options: AnalyzeOptions): Promise<DecidedRequest> {
    return withDecisions(path, request, options, this.#folder);
  }

  /** Where a recording is read from: an archived one whose text is gone goes by the path that it had. */
  async sourceOf(path: string): Promise<string> {
    const recording = fromFolder(this.#folder, path);
    if (isAbsolute(recording) || recording.startsWith('../')) return path;
    const source = await recordingSource(this.#folder, recording);
    return source === recording ? path : join(this.#folder, source);
  }

  /** Keeps what is found of a recording as the folder's list would; null where it is asked for in another way. */
  async keeper(path: string, request: AnalysisRequest): Promise<Keeper | null> {
    const recording = fromFolder(this.#folder, path);
    if (isAbsolute(recording) || recording.startsWith('../')) return null;
    return keeperFor(this.#folder, this.file, recording, request);
  }

  /** A result with what the checks of its rig say of it. */
  async withRig(path: string, analyzed: AnalyzedFile): Promise<AnalyzedFile> {
    const modified = await stat(analyzed.recording.path).then(
      ({ mtimeMs }) => mtimeMs,
      () => null,
    );
    const place = fromFolder(this.#folder, path);
    return analyzedWithRig(analyzed, this.file, this.#rigChecks, place, modified);
  }
}
