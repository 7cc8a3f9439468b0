import { recordingPlace } from '../experiment/index.ts';
import { ExperimentFileError, readExperiment, recordingPaths } from '../store/index.ts';
import type { RecordingList } from './contract/index.ts';
import type { FolderEvent, Recordings } from './recordings.ts';
import { watchFolder } from './watch.ts';

/** Recordings of a folder, watched for as long as they are open. */
export interface OpenRecordings extends Recordings {
  close(): Promise<void>;
}

/** Opens the recordings of an experiment folder. */
export async function folderRecordings(folder: string, log: (text: string) => void): Promise<OpenRecordings> {
  const listeners = new Set<(event: FolderEvent) => void>();
  const tell = (kind: FolderEvent['kind']) => {
    for (const listener of listeners) listener({ kind, done: 0, total: 0 });
  };
  const watching = await watchFolder(folder, async ({ experiment, recordings }) => {
    if (experiment) tell('experiment');
    if (recordings) tell('recordings');
  });
  log('analysis is not connected yet');
  return {
    list: () => listOf(folder),
    detail: async () => null,
    preview: async () => null,
    decide: async () => null,
    readings: async () => null,
    steps: async () => null,
    comparison: async () => ({ conditions: [], trends: [], left: [] }),
    refresh: () => watching.look(),
    listen: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    close: async () => watching.stop(),
  };
}

async function listOf(folder: string): Promise<RecordingList> {
  const experiment = await readExperiment(folder).catch((error: unknown) => {
    if (error instanceof ExperimentFileError) return null;
    throw error;
  });
  const { paths } = await recordingPaths(folder, 'recordings');
  const recordings: RecordingList['recordings'] = [];
  const unplaced: RecordingList['unplaced'] = [];
  for (const path of paths) {
    const place = experiment === null ? null : recordingPlace(experiment, path);
    if (place?.kind !== 'read') {
      unplaced.push({ path, message: place?.message ?? '' });
      continue;
    }
    const { kind: _, ...codes } = place;
    recordings.push({
      path,
      place: codes,
      state: 'waiting',
      message: null,
      timeConstant: null,
      verdict: null,
      codes: [],
      strip: null,
      decided: false,
      rejected: false,
      copyOf: null,
      duration: null,
      startedAt: null,
    });
  }
  return { recordings, unplaced, progress: { done: 0, total: paths.length } };
}
