import type { Verdict } from '../decay/index.ts';
import {
  type Condition,
  conditionName,
  type ExpectedNoise,
  type MeasuredRun,
  type MeasuredRuns,
  poolRuns,
} from '../experiment/index.ts';
import { median } from '../statistics/index.ts';
import { type RecordingNote, unreadWords } from './recording-notes.ts';

/** One recording and what became of it. */
export interface ComparedRecording {
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

/** A path that does not say what it is of, or where nothing is. */
export interface AskedRecording {
  readonly path: string;
  readonly message: string;
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

/** What one recording brings to the whole. */
export interface Outcome {
  readonly recording: ComparedRecording;
  /** Null where it does not count. */
  readonly run: MeasuredRun | null;
  readonly noise: ExpectedNoise | null;
  /** Of the file; null where it could not be read. */
  readonly sha256: string | null;
}

/** A recording that could not be read. */
export function unreadOutcome(path: string, condition: Condition, error: Error): Outcome {
  const recording = {
    path,
    condition,
    timeConstant: null,
    verdict: null,
    excluded: unreadWords(error),
    copyOf: null,
    notes: [],
  };
  return { run: null, noise: null, sha256: null, recording };
}

/**
 * Puts recordings together by condition. Of files that are equal byte for byte, the first counts.
 *
 * @param outcomes in the order of their paths
 * @param counts by path, which recordings to look at; a copy of another one is a copy also where that one is left out
 */
export function poolOutcomes(
  outcomes: readonly Outcome[],
  asked: readonly AskedRecording[],
  counts: (path: string) => boolean = () => true,
): MeasuredFolder {
  const recordings: ComparedRecording[] = [];
  const runs = new Map<string, { condition: Condition; runs: MeasuredRun[] }>();
  const noises: ExpectedNoise[] = [];
  const originals = new Map<string, string>();
  for (const { recording, run, noise, sha256 } of outcomes) {
    const { path, condition } = recording;
    const original = sha256 === null ? undefined : originals.get(sha256);
    if (sha256 !== null && original === undefined) originals.set(sha256, path);
    if (!counts(path)) continue;
    recordings.push(original === undefined ? recording : copied(recording, original));
    if (original !== undefined || run === null) continue;
    if (noise !== null) noises.push(noise);
    const name = conditionName(condition);
    const group = runs.get(name) ?? { condition, runs: [] };
    group.runs.push(run);
    runs.set(name, group);
  }
  const measured = [...runs.values()].flatMap((group): MeasuredRuns[] => {
    const pooled = poolRuns(group.runs);
    return pooled === null ? [] : [{ condition: group.condition, pooled }];
  });
  return { measured, recordings, noise: usualOf(noises), asked };
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
