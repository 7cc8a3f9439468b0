import { type FolderAnalysis, openAnalysis } from './folder-analysis.ts';
import type { ListCrew } from './list-crew.ts';
import type { RecordingDetail } from './types.ts';

/** Who does work on many recordings, and how it is watched and broken off. */
export interface LongWork {
  /** Threads for what is not analyzed yet; this one where left out. */
  readonly crew?: ListCrew;
  /** Told of recordings that are done. */
  readonly tell?: (done: number, total: number) => void;
  /** Ends the work after the recording that is in hand. */
  readonly signal?: AbortSignal;
}

/**
 * Opens a folder for one piece of work: nothing is analyzed in the background, only what is asked for.
 *
 * @throws what the work throws
 */
export async function withAnalysis<T>(
  folder: string,
  work: (analysis: FolderAnalysis) => Promise<T>,
): Promise<T> {
  const analysis = await openAnalysis(folder, { hands: 0 });
  try {
    return await work(analysis);
  } finally {
    await analysis.close();
  }
}

/**
 * Does something with a folder when all of its recordings are analyzed. What was kept is taken as it is.
 *
 * @throws what the work throws; the reason of the signal where it is broken off
 */
export async function withSettledAnalysis<T>(
  folder: string,
  { crew, tell, signal }: LongWork,
  work: (analysis: FolderAnalysis) => Promise<T>,
): Promise<T> {
  const analysis = await openAnalysis(folder, crew ?? {});
  const breakOff = () => void analysis.close();
  signal?.addEventListener('abort', breakOff, { once: true });
  try {
    analysis.onChange((change) => {
      if (change.kind === 'progress') tell?.(change.done, change.total);
    });
    const { done, total } = analysis.list().progress;
    if (done < total) tell?.(done, total);
    await analysis.settled();
    signal?.throwIfAborted();
    return await work(analysis);
  } finally {
    signal?.removeEventListener('abort', breakOff);
    await analysis.close();
  }
}

/**
 * Everything about many recordings, one after another. Those that cannot be read are left out; the list says why.
 *
 * @returns by path
 * @throws the reason of the signal where the work is broken off
 */
export async function readableDetails(
  analysis: FolderAnalysis,
  paths: readonly string[],
  { tell, signal }: LongWork,
): Promise<ReadonlyMap<string, RecordingDetail>> {
  const details = new Map<string, RecordingDetail>();
  for (const [i, path] of paths.entries()) {
    signal?.throwIfAborted();
    const detail = await analysis.detail(path).catch(() => null);
    if (detail !== null) details.set(path, detail);
    tell?.(i + 1, paths.length);
  }
  return details;
}
