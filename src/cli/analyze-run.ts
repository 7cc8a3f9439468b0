import type { AnalysisRequest, AnalyzedFile } from '../analysis/index.ts';
import { openRecordingFile } from '../archive/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { briefHead, briefResult } from './brief.ts';
import { chainWishes, inOptions } from './chain-wishes.ts';
import type { DecidedRequest } from './decided.ts';
import { figurePaths, writeFigure } from './figure-file.ts';
import { failureAsJson, resultAsJson } from './json.ts';
import type { OfExperiment } from './of-experiment.ts';
import { presentResult } from './present.ts';
import { type Ink, inkOf, printableLines } from './terminal.ts';
import { type AnalyzeOptions, decayWishes, readWishes } from './wishes.ts';

/** What the command `analyze` is asked for. Plain data: it can be sent to another thread. */
export interface AnalyzeJob {
  readonly paths: readonly string[];
  readonly options: AnalyzeOptions;
  /** Whether words are without weight and colour. */
  readonly plain: boolean;
}

/** What one recording brings to what the command prints. Plain data. */
export interface Said {
  readonly stdout: string;
  readonly stderr: string;
  /** Whether something could not be done, and whether the recording must be repeated. */
  readonly failed: boolean;
  readonly repeat: boolean;
}

/** Whoever reads and analyzes a file. */
export type Reading = (path: string, request: AnalysisRequest) => Promise<AnalyzedFile>;

/** The command `analyze` with its options understood, for one recording after another. */
export class AnalyzeRun {
  readonly #job: AnalyzeJob;
  readonly #experiment: OfExperiment | null;
  readonly #wishes: AnalysisRequest;
  readonly #figures: readonly string[];
  readonly #ink: Ink;

  private constructor(job: AnalyzeJob, experiment: OfExperiment | null, wishes: AnalysisRequest) {
    this.#job = job;
    this.#experiment = experiment;
    this.#wishes = wishes;
    this.#figures = job.options.figure === undefined ? [] : figurePaths(job.options.figure, job.paths);
    this.#ink = inkOf(job.plain);
  }

  /** @throws Error where options or experiment file cannot be understood */
  static async of(job: AnalyzeJob): Promise<AnalyzeRun> {
    const { options } = job;
    const experiment = options.experiment === undefined ? null : await experimentIn(options.experiment);
    return new AnalyzeRun(job, experiment, await gatherWishes(options, experiment?.file ?? null));
  }

  /** What stands above all recordings; empty where nothing does. */
  get head(): string {
    const { brief, json } = this.#job.options;
    return brief && !json ? `${briefHead(this.#ink)}\n` : '';
  }

  /**
   * Analyzes a recording; one that cannot be read is said so.
   *
   * @param i its number among the paths, from 0
   */
  async analyze(i: number, reading: Reading): Promise<Said> {
    const path = this.#job.paths[i] ?? '';
    try {
      return await this.#analyzed(path, this.#figures[i] ?? null, reading);
    } catch (thrown) {
      const error = inOptions(thrown);
      if (!(error instanceof Error)) throw error;
      return this.failed(path, error);
    }
  }

  /** What is said of a recording that could not be analyzed. */
  failed(path: string, error: Error): Said {
    const stdout = this.#job.options.json ? `${JSON.stringify(failureAsJson(path, error))}\n` : '';
    return { stdout, stderr: complaint(path, error), failed: true, repeat: false };
  }

  async #analyzed(path: string, figure: string | null, reading: Reading): Promise<Said> {
    const [experiment, wishes, { options }] = [this.#experiment, this.#wishes, this.#job];
    const keep = (await experiment?.keeper(path, wishes)) ?? null;
    const decided = experiment === null ? undecided(wishes) : await experiment.decided(path, wishes, options);
    const file = experiment === null ? path : await experiment.sourceOf(path);
    const read = await reading(file, decided.request);
    await keep?.(read);
    const analyzed = experiment === null ? read : await experiment.withRig(path, read);
    const undrawn = figure === null ? null : await failureOf(() => writeFigure(figure, analyzed));
    return {
      stdout: output(analyzed, decided, options, undrawn === null ? figure : null, this.#ink),
      stderr: undrawn === null ? '' : complaint(path, undrawn),
      failed: undrawn !== null,
      repeat: analyzed.decay.verdict === 'repeat',
    };
  }
}

/** The error of some work, null where it is done. */
async function failureOf(work: () => Promise<void>): Promise<Error | null> {
  return work().then(
    () => null,
    (error: unknown) => (error instanceof Error ? error : new Error(String(error))),
  );
}

function complaint(path: string, { message }: Error): string {
  const named = message.startsWith(path) ? message : `${path}: ${message}`;
  return `emberline: ${printableLines(named)}\n`;
}

async function gatherWishes(
  options: AnalyzeOptions,
  experiment: Experiment | null,
): Promise<AnalysisRequest> {
  const read = readWishes(options);
  const zero =
    options.zeroRecording === undefined
      ? null
      : await openRecordingFile(
          options.zeroRecording,
          options.unit === undefined ? {} : { unit: read.unit ?? 'V' },
        );
  return {
    read,
    chain: chainWishes(options, experiment),
    settings: decayWishes(options, experiment),
    zero,
  };
}

/** The schema, YAML and what people decide are only loaded where an experiment folder is named. */
async function experimentIn(folder: string): Promise<OfExperiment> {
  const { OfExperiment } = await import('./of-experiment.ts');
  return OfExperiment.in(folder);
}

function undecided(request: AnalysisRequest): DecidedRequest {
  return { request, decisions: [], sentences: [] };
}

function output(
  analyzed: AnalyzedFile,
  { decisions, sentences }: DecidedRequest,
  options: AnalyzeOptions,
  figure: string | null,
  ink: Ink,
): string {
  if (options.json) return `${JSON.stringify(resultAsJson(analyzed, decisions))}\n`;
  const lines = options.brief
    ? briefResult(analyzed, sentences, ink)
    : presentResult(analyzed, sentences, ink);
  if (figure !== null) lines.push(`  figure     ${printableLines(figure)}`, '');
  return `${lines.join('\n')}\n`;
}
