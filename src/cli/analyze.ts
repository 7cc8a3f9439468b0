import { stat } from 'node:fs/promises';
import { type AnalysisRequest, type AnalyzedFile, analyzeFile } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { readRecordingFile } from '../recording/files.ts';
import { briefHead, briefResult } from './brief.ts';
import { chainWishes, inOptions } from './chain-wishes.ts';
import type { DecidedRequest } from './decided.ts';
import { figurePaths, writeFigure } from './figure-file.ts';
import { failureAsJson, resultAsJson } from './json.ts';
import type { OfExperiment } from './of-experiment.ts';
import { presentResult } from './present.ts';
import {
  type ExitStatus,
  type Ink,
  inkFor,
  printableLines,
  type Surroundings,
  startProgress,
} from './terminal.ts';
import { type AnalyzeOptions, decayWishes, readWishes } from './wishes.ts';
import { secondThreadModule } from './worker-module.ts';

/** Smaller files are read before a bar could be seen, bytes. */
const worthABar = 8 << 20;

/**
 * The command `analyze`: every recording in turn; one that cannot be read does not stop the others.
 *
 * @throws Error where options or experiment file cannot be understood: then nothing is analyzed
 */
export async function analyze(
  paths: readonly string[],
  options: AnalyzeOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const experiment = options.experiment === undefined ? null : await experimentIn(options.experiment);
  const wishes = await gatherWishes(options, experiment?.file ?? null);
  const figures = options.figure === undefined ? [] : figurePaths(options.figure, paths);
  const ink = inkFor(surroundings.stdout, surroundings.environment);
  if (options.brief && !options.json) surroundings.stdout.write(`${briefHead(ink)}\n`);
  let failed = false;
  let repeat = false;
  for (const [i, path] of paths.entries()) {
    try {
      const decided =
        experiment === null ? undecided(wishes) : await experiment.decided(path, wishes, options);
      const place = `${i + 1} of ${paths.length}`;
      const file = experiment === null ? path : await experiment.sourceOf(path);
      const read = await withProgress(file, place, decided.request, surroundings);
      const analyzed = experiment === null ? read : await experiment.withRig(path, read);
      if (analyzed.decay.verdict === 'repeat') repeat = true;
      const figure = figures[i] ?? null;
      const undrawn = figure === null ? null : await failureOf(() => writeFigure(figure, analyzed));
      surroundings.stdout.write(output(analyzed, decided, options, undrawn === null ? figure : null, ink));
      if (undrawn !== null) {
        failed = true;
        complain(path, undrawn, surroundings);
      }
    } catch (thrown) {
      const error = inOptions(thrown);
      if (!(error instanceof Error)) throw error;
      failed = true;
      if (options.json) surroundings.stdout.write(`${JSON.stringify(failureAsJson(path, error))}\n`);
      complain(path, error, surroundings);
    }
  }
  if (failed) return 2;
  return repeat ? 1 : 0;
}

/** The error of some work, null where it is done. */
async function failureOf(work: () => Promise<void>): Promise<Error | null> {
  return work().then(
    () => null,
    (error: unknown) => (error instanceof Error ? error : new Error(String(error))),
  );
}

function complain(path: string, { message }: Error, { stderr }: Surroundings): void {
  const named = message.startsWith(path) ? message : `${path}: ${message}`;
  stderr.write(`emberline: ${printableLines(named)}\n`);
}

async function gatherWishes(
  options: AnalyzeOptions,
  experiment: Experiment | null,
): Promise<AnalysisRequest> {
  const read = readWishes(options);
  const zero =
    options.zeroRecording === undefined
      ? null
      : await readRecordingFile(
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

async function withProgress(
  path: string,
  place: string,
  wishes: AnalysisRequest,
  surroundings: Surroundings,
): Promise<AnalyzedFile> {
  const size = await sizeOf(path);
  if (size < worthABar) return analyzeFile(path, wishes);
  const progress = await startProgress(surroundings, size, `reading ${place}`);
  try {
    return await analyzeFile(path, wishes, progress.update, secondThreadModule());
  } finally {
    progress.stop();
  }
}

/** Bytes; 0 where the file cannot be asked, which reading it will say in better words. */
async function sizeOf(path: string): Promise<number> {
  return stat(path).then(
    ({ size }) => size,
    () => 0,
  );
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
