import {
  type FolderAnalysis,
  type ListCrew,
  openAnalysis,
  UnknownRecordingError,
} from '../analysis/index.ts';
import {
  isReleased,
  type NewDecision,
  readReleases,
  type StoredDecision,
  StoreError,
} from '../store/index.ts';
import { asProblem } from './as-problem.ts';
import { classOnce } from './class-once.ts';
import type { DecisionRequest, ReadOptionsView } from './contract/index.ts';
import { folderMine, type Mine } from './mine.ts';
import type { FolderEvent, Recordings } from './recordings.ts';
import { folderSubmissions, type Submissions } from './submissions.ts';
import { asReadOptions, understand } from './understanding.ts';
import { watchFolder } from './watch.ts';

/** Recordings of a folder, watched for as long as they are open. */
export interface OpenRecordings extends Recordings {
  /** What groups handed in about them. */
  readonly submissions: Submissions;
  /** What each group sees of them. */
  readonly mine: Mine;
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
  const rolled = classOnce(analysis);
  const listeners = new Set<(event: FolderEvent) => void>();
  const tell = (kind: FolderEvent['kind']) => {
    for (const listener of listeners) listener({ kind, ...analysis.list().progress });
  };
  analysis.onChange(({ kind }) => tell(kind === 'progress' ? 'progress' : 'recordings'));
  const watching = await watchFolder(folder, async ({ experiment, recordings, rig, sheets, writing }) => {
    if (experiment || recordings || rig) {
      await analysis
        .refresh(writing)
        .catch((error: unknown) => log(`The folder cannot be looked at: ${error}`));
    }
    if (sheets) tell('recordings');
    if (experiment) tell('experiment');
    if (rig) tell('rig');
  });
  const asked = <T>(answer: () => Promise<T>): Promise<T | null> => {
    return answer().catch((error: unknown) => {
      if (error instanceof UnknownRecordingError) return null;
      throw asProblem(error, folder);
    });
  };
  const submissions = folderSubmissions(analysis, () => Date.now());
  return {
    submissions,
    mine: folderMine(analysis, submissions, (section) => releasedIn(folder, section)),
    list: async () => {
      const { recordings, unplaced, progress } = analysis.list();
      return { recordings, unplaced: unplaced.map((one) => ({ ...one })), progress };
    },
    detail: (path) => asked(() => analysis.detail(path)),
    preview: (path, marks) => asked(() => analysis.preview(path, marks)),
    reading: (path, options) => asked(() => readingOf(analysis, path, options)),
    decide: (path, request, kept) => asked(() => decided(analysis, path, request, kept)),
    readings: (path, from, to, points) => asked(() => analysis.readings(path, from, to, points)),
    steps: (path) => asked(() => analysis.steps(path)),
    comparison: async (groups) => {
      try {
        return analysis.comparison(groups);
      } catch (error) {
        throw asProblem(error, folder);
      }
    },
    classOf: rolled,
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

/** Whether the groups of a section may see their results; where the releases cannot be read, nobody may. */
async function releasedIn(folder: string, section: string | null): Promise<boolean> {
  const releases = await readReleases(folder).catch((error: unknown) => {
    if (error instanceof StoreError) return [];
    throw error;
  });
  return isReleased(releases, section);
}

async function decided(
  analysis: FolderAnalysis,
  path: string,
  request: DecisionRequest,
  kept: (decision: StoredDecision) => Promise<void>,
) {
  const { who, why } = request;
  return analysis.decide(path, decisionOf(request), { who, why, at: new Date().toISOString() }, kept);
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
