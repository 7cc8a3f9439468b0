import {
  type FolderAnalysis,
  type ListCrew,
  openAnalysis,
  SensorError,
  UnknownGroupError,
  UnknownRecordingError,
} from '../analysis/index.ts';
import { RecordingError } from '../recording/index.ts';
import { ChainError } from '../sensing/index.ts';
import { DecisionError, type NewDecision } from '../store/index.ts';
import type { DecisionRequest, ReadOptionsView } from './contract/index.ts';
import { RequestProblem } from './problem.ts';
import type { FolderEvent, Recordings } from './recordings.ts';
import { asReadOptions, understand } from './understanding.ts';
import { watchFolder } from './watch.ts';

/** Recordings of a folder, watched for as long as they are open. */
export interface OpenRecordings extends Recordings {
  close(): Promise<void>;
}

/**
 * Opens the recordings of an experiment folder. They are analyzed in the background, and again where they or the
 * experiment file change.
 *
 * @param log told of what goes wrong while nobody asks
 * @param crew threads for the work in the background, ended with the recordings; null leaves it to this thread
 */
export async function folderRecordings(
  folder: string,
  log: (text: string) => void,
  crew: ListCrew | null = null,
): Promise<OpenRecordings> {
  const analysis = await openAnalysis(folder, crew ?? {});
  const listeners = new Set<(event: FolderEvent) => void>();
  const tell = (kind: FolderEvent['kind']) => {
    for (const listener of listeners) listener({ kind, ...analysis.list().progress });
  };
  analysis.onChange(({ kind }) => tell(kind === 'progress' ? 'progress' : 'recordings'));
  const watching = await watchFolder(folder, async ({ experiment, rig, writing }) => {
    await analysis
      .refresh(writing)
      .catch((error: unknown) => log(`The folder cannot be looked at: ${error}`));
    if (experiment) tell('experiment');
    if (rig) tell('rig');
  });
  const asked = <T>(answer: () => Promise<T>): Promise<T | null> => {
    return answer().catch((error: unknown) => {
      if (error instanceof UnknownRecordingError) return null;
      throw asProblem(error, folder);
    });
  };
  return {
    list: async () => {
      const { recordings, unplaced, progress } = analysis.list();
      return { recordings, unplaced: unplaced.map((one) => ({ ...one })), progress };
    },
    detail: (path) => asked(() => analysis.detail(path)),
    preview: (path, marks) => asked(() => analysis.preview(path, marks)),
    reading: (path, options) => asked(() => readingOf(analysis, path, options)),
    decide: (path, request) => asked(() => decided(analysis, path, request)),
    readings: (path, from, to, points) => asked(() => analysis.readings(path, from, to, points)),
    steps: (path) => asked(() => analysis.steps(path)),
    comparison: async (groups) => compared(analysis, groups),
    refresh: (added) => watching.look(added),
    listen: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    close: async () => {
      watching.stop();
      // Nothing new is begun from here on; what is in hand is broken off.
      const ended = analysis.close();
      await crew?.close();
      await ended;
    },
  };
}

function compared(analysis: FolderAnalysis, groups: readonly string[]) {
  try {
    return analysis.comparison(groups);
  } catch (error) {
    if (!(error instanceof UnknownGroupError)) throw error;
    throw new RequestProblem('bad-request', error.message, error.mend);
  }
}

async function decided(analysis: FolderAnalysis, path: string, request: DecisionRequest) {
  const { who, why } = request;
  return analysis.decide(path, decisionOf(request), { who, why, at: new Date().toISOString() });
}

async function readingOf(analysis: FolderAnalysis, path: string, options: ReadOptionsView | null) {
  const { reading, decisions } = await analysis.decided(path);
  const file = { path: analysis.fileOf(path), name: path.split('/').at(-1) ?? path };
  return { ...(await understand(file, options ?? reading ?? {})), decisions };
}

function decisionOf(request: DecisionRequest): NewDecision {
  if (request.kind === 'marks') return { kind: 'marks', marks: request.marks };
  if (request.kind === 'reading') return { kind: 'reading', read: asReadOptions(request.read) };
  return request.kind === 'undo' ? { kind: 'undo', undoes: request.undoes } : { kind: 'reject' };
}

/** Where the folder lies on the disk is left out: the page knows it by its name. */
function asProblem(error: unknown, folder: string): unknown {
  const plain = (text: string) => text.replaceAll(`${folder}/`, '').replaceAll(`${folder}\\`, '');
  if (error instanceof DecisionError) {
    const kind = error.kind === 'file' ? 'cannot-write' : 'unfit';
    return new RequestProblem(kind, sentence(plain(error.what)), sentence(plain(error.mend)));
  }
  if (error instanceof RecordingError) {
    const line = error.line === null ? '' : `Line ${error.line}: `;
    return new RequestProblem('unreadable', `${line}${plain(error.what)}`, plain(error.mend));
  }
  if (error instanceof SensorError) {
    return new RequestProblem('unreadable', sentence(plain(error.what)), sentence(plain(error.mend)));
  }
  if (error instanceof ChainError) {
    return new RequestProblem(
      'unreadable',
      plain(error.message),
      'Say it under sensor in the experiment file.',
    );
  }
  return error;
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
}
