import { stat } from 'node:fs/promises';
import { isAbsolute, join, relative } from 'node:path';
import type { Verdict } from '../decay/index.ts';
import {
  type Condition,
  conditionName,
  type ExpectedNoise,
  type Experiment,
  type MeasuredRun,
  type MeasuredRuns,
  parsePattern,
  poolRuns,
  recordingPlace,
  runOf,
} from '../experiment/index.ts';
import { median } from '../statistics/index.ts';
import { recordingPaths } from '../store/index.ts';
import { analyzeFile } from './analysis.ts';
import { chainWishes } from './chain-wishes.ts';
import { cautionsOf, leftOutNotes, type RecordingNote, unreadWords } from './compare-notes.ts';
import { type Surroundings, startProgress } from './terminal.ts';
import { decayWishes } from './wishes.ts';

/** One recording and what became of it. */
interface ComparedRecording {
  /** From the experiment folder. */
  readonly path: string;
  readonly condition: Condition;
  /** s; null where there is none. */
  readonly timeConstant: number | null;
  /** Null where it could not be read. */
  readonly verdict: Verdict | null;
  /** Why it does not count; null where it does. */
  readonly excluded: string | null;
  /** The recording that it is a copy of, byte for byte; null where it is none. */
  readonly copyOf: string | null;
  /** Cautions of its analysis, and whether its condition was meant to be left out. */
  readonly notes: readonly RecordingNote[];
}

/** The recordings of a folder, analyzed and put together by condition. */
export interface MeasuredFolder {
  readonly measured: readonly MeasuredRuns[];
  readonly recordings: readonly ComparedRecording[];
  /** Noise of single readings, the median of the recordings that count; null without any. */
  readonly noise: ExpectedNoise | null;
  /** Paths that do not say what they are of. */
  readonly asked: readonly AskedRecording[];
}

/** A path that does not say what it is of, or where nothing is. */
export interface AskedRecording {
  readonly path: string;
  readonly message: string;
}

interface Placed {
  readonly path: string;
  readonly condition: Condition;
}

/**
 * Analyzes the recordings of an experiment folder.
 *
 * @param given paths as typed; empty for all whose paths fit the pattern
 */
export async function measureFolder(
  folder: string,
  experiment: Experiment,
  given: readonly string[],
  surroundings: Surroundings,
): Promise<MeasuredFolder> {
  const { placed, asked } = await placedRecordings(folder, experiment, given);
  const recordings: ComparedRecording[] = [];
  const runs = new Map<string, { condition: Condition; runs: MeasuredRun[] }>();
  const noises: ExpectedNoise[] = [];
  const originals = new Map<string, string>();
  const progress = await startProgress(surroundings, Math.max(placed.length, 1), 'analyzing');
  try {
    for (const one of placed) {
      const { recording, run, noise, sha256 } = await analyzed(folder, experiment, one);
      const original = sha256 === null ? undefined : originals.get(sha256);
      recordings.push(original === undefined ? recording : copied(recording, original));
      progress.update(recordings.length);
      if (original !== undefined) continue;
      if (sha256 !== null) originals.set(sha256, one.path);
      if (run === null) continue;
      if (noise !== null) noises.push(noise);
      const name = conditionName(one.condition);
      const group = runs.get(name) ?? { condition: one.condition, runs: [] };
      group.runs.push(run);
      runs.set(name, group);
    }
  } finally {
    progress.stop();
  }
  const measured = [...runs.values()].flatMap((group): MeasuredRuns[] => {
    const pooled = poolRuns(group.runs);
    return pooled === null ? [] : [{ condition: group.condition, pooled }];
  });
  return { measured, recordings, noise: usualOf(noises), asked };
}

async function analyzed(folder: string, experiment: Experiment, { path, condition }: Placed) {
  const options = { body: condition.body };
  try {
    const { decay, recording: file } = await analyzeFile(join(folder, path), {
      read: {},
      chain: chainWishes(options, experiment),
      settings: decayWishes(options, experiment),
      zero: null,
    });
    const run = decay.verdict === 'repeat' ? null : runOf(path, decay);
    const excluded =
      run === null
        ? (decay.remarks.find(({ severity }) => severity === 'repeat')?.message ?? 'It has no time constant.')
        : null;
    const timeConstant = decay.timeConstant?.value ?? null;
    return {
      run,
      noise: decay.noise,
      sha256: file.sha256,
      recording: {
        path,
        condition,
        timeConstant,
        verdict: decay.verdict,
        excluded,
        copyOf: null,
        notes: [...leftOutNotes(experiment, condition), ...cautionsOf(decay)],
      },
    };
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    const excluded = unreadWords(error);
    const recording = {
      path,
      condition,
      timeConstant: null,
      verdict: null,
      excluded,
      copyOf: null,
      notes: [],
    };
    return { run: null, noise: null, sha256: null, recording };
  }
}

/** A copy proves nothing about how trials repeat: it does not count. */
function copied(recording: ComparedRecording, original: string): ComparedRecording {
  return {
    ...recording,
    copyOf: original,
    excluded: `It is the same file as ${original}, byte for byte, and counts once: put the recording of the repeat in its place.`,
  };
}

function usualOf(noises: readonly ExpectedNoise[]): ExpectedNoise | null {
  if (noises.length === 0) return null;
  return {
    white: median(noises.map(({ white }) => white)),
    correlated: median(noises.map(({ correlated }) => correlated)),
    correlationTime: median(noises.map(({ correlationTime }) => correlationTime)),
  };
}

async function placedRecordings(folder: string, experiment: Experiment, given: readonly string[]) {
  const found =
    given.length > 0
      ? { paths: given.map((path) => fromFolder(folder, path)), cut: false }
      : await recordingPaths(folder, fixedFolder(experiment));
  const placed: Placed[] = [];
  const asked: AskedRecording[] = [];
  if (given.length === 0 && experiment.recordings === undefined) {
    asked.push({
      path: 'experiment.yaml',
      message:
        'It does not say how the paths of recordings are built: write a pattern such as recordings: "recordings/{bench}/{body}_{flow}".',
    });
    return { placed, asked };
  }
  for (const path of found.paths) {
    if (given.length > 0 && !(await isThere(folder, path))) {
      asked.push({ path, message: 'There is no such file.' });
      continue;
    }
    const place = recordingPlace(experiment, path);
    if (place.kind === 'asked') asked.push({ path, message: place.message });
    else if (place.body === null || place.flow === null) {
      asked.push({ path, message: 'The pattern of the experiment file names no body or no flow.' });
    } else placed.push({ path, condition: { body: place.body, flow: place.flow } });
  }
  if (found.cut) asked.push({ path: 'the rest', message: 'There are too many files here to look at all.' });
  return { placed, asked };
}

async function isThere(folder: string, path: string): Promise<boolean> {
  return stat(isAbsolute(path) ? path : join(folder, path)).then(
    () => true,
    () => false,
  );
}

/** A path as typed, from the experiment folder, with / between its parts. */
function fromFolder(folder: string, path: string): string {
  const from = relative(folder, path);
  return isAbsolute(from) ? from : from.replaceAll('\\', '/');
}

/** Where the recordings of an experiment are expected, for a folder that holds none. */
export function expectedRecordings(experiment: Experiment): AskedRecording {
  return {
    path: fixedFolder(experiment) || '.',
    message: `There are no recordings here. The pattern of the experiment file expects them as ${experiment.recordings ?? ''}, with an ending such as .txt or .csv.`,
  };
}

/** The folders before the first name of the pattern. */
function fixedFolder({ recordings }: Experiment): string {
  const pattern = recordings === undefined ? null : parsePattern(recordings);
  const first = pattern?.ok ? pattern.tokens[0] : undefined;
  const text = first?.kind === 'text' ? first.text : '';
  return text.slice(0, Math.max(0, text.lastIndexOf('/')));
}
