import type { DetailAnswer, DetailOrder } from './detail-work.ts';
import { type FolderAnalysis, openAnalysis } from './folder-analysis.ts';
import { inTurns } from './in-turns.ts';
import type { ListCrew } from './list-crew.ts';
import type { ThreadCrew } from './thread-crew.ts';
import type { RecordingDetail } from './types.ts';

/** Who does work on many recordings, and how it is watched and broken off. */
export interface LongWork {
  /** Threads for what is not analyzed yet; this one where left out. */
  readonly crew?: ListCrew;
  /** Threads for everything about recordings; this one where left out. */
  readonly details?: ThreadCrew<DetailOrder, DetailAnswer>;
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
 * Everything about many recordings. Those that cannot be read are left out; the list says why.
 *
 * @returns by path, in the order of the paths
 * @throws the reason of the signal where the work is broken off
 */
export async function readableDetails(
  analysis: FolderAnalysis,
  paths: readonly string[],
  { details, tell, signal }: LongWork,
): Promise<ReadonlyMap<string, RecordingDetail>> {
  const made = new Map<string, RecordingDetail>();
  let done = 0;
  await inTurns(paths, details?.hands ?? 1, async (path) => {
    signal?.throwIfAborted();
    const asked =
      details === undefined ? analysis.detail(path) : analysis.detailBy(path, (order) => details.give(order));
    const detail = await asked.catch(() => null);
    if (detail !== null) made.set(path, detail);
    done += 1;
    tell?.(done, paths.length);
  });
  return new Map(
    paths.flatMap((path) => {
      const detail = made.get(path);
      return detail === undefined ? [] : [[path, detail] as const];
    }),
  );
}
