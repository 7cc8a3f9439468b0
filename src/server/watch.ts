import { join } from 'node:path';
import {
  fileStamp,
  findSubmissions,
  recordingPaths,
  referenceRunsPath,
  rigChecksPath,
} from '../store/index.ts';

/** How long a folder is left alone between two looks, ms; longer where a look takes long, but not for ever. */
const shortestPause = 3000;
const longestPause = 10_000;
/** Files that are looked at side by side. */
const atOnce = 16;
/** A recording that was seen to change is being written until it has rested for so long, ms. */
const restsAfter = 10_000;

/** Watching of a folder. */
export interface Watching {
  /**
   * Looks at once, and tells of what is new.
   *
   * @param whole path of a recording that was put there as a whole: nobody goes on writing it
   */
  look(whole?: string): Promise<void>;
  stop(): void;
}

/** What of the folder is not as it was. */
export interface FolderChange {
  readonly experiment: boolean;
  /** Whether recordings came, went, began to be written, or are written no more. */
  readonly recordings: boolean;
  /** Whether rigs were checked. */
  readonly rig: boolean;
  /** Whether sheets of groups came, went or were written. */
  readonly sheets: boolean;
  /** Paths of the recordings that are being written. */
  readonly writing: ReadonlySet<string>;
}

/** A recording at a look. */
interface Seen {
  /** Of size and time; another one where it was written. */
  readonly stamp: string;
  /** When it was seen to be new or to have changed, by our clock, ms; null where it was not. */
  readonly changed: number | null;
}

interface Look {
  readonly experiment: string;
  readonly rig: string;
  readonly sheets: string;
  readonly recordings: ReadonlyMap<string, Seen>;
  readonly writing: ReadonlySet<string>;
}

/**
 * Looks at an experiment folder again and again, by names, sizes and times of its files: notices of the system itself
 * are missing on network disks. What a file grows by while it is written is no change: only that it begins and ends.
 *
 * @param folder of the experiment
 * @param onChange told of every change after the first look
 * @param clock ms
 */
export async function watchFolder(
  folder: string,
  onChange: (change: FolderChange) => Promise<void>,
  clock: () => number = Date.now,
): Promise<Watching> {
  let seen = await lookAt(folder, null, null, clock);
  let looking = Promise.resolve();
  const once = async (whole: string | null) => {
    const before = seen;
    seen = await lookAt(folder, before, whole, clock);
    const change = {
      experiment: seen.experiment !== before.experiment,
      recordings: !sameList(seen, before),
      rig: seen.rig !== before.rig,
      sheets: seen.sheets !== before.sheets,
      writing: seen.writing,
    };
    if (change.experiment || change.recordings || change.rig || change.sheets) await onChange(change);
  };
  const look = (whole: string | null = null) => {
    const next = () => once(whole);
    looking = looking.then(next, next);
    return looking;
  };
  let timer: NodeJS.Timeout | null = null;
  let pause = shortestPause;
  const timed = async () => {
    const start = performance.now();
    await look().catch(() => undefined);
    pause = Math.min(longestPause, Math.max(shortestPause, 20 * (performance.now() - start)));
    if (timer !== null) again();
  };
  const again = () => {
    timer = setTimeout(() => void timed(), pause);
    timer.unref();
  };
  again();
  return {
    look,
    stop: () => {
      if (timer !== null) clearTimeout(timer);
      timer = null;
    },
  };
}

async function lookAt(
  folder: string,
  before: Look | null,
  whole: string | null,
  clock: () => number,
): Promise<Look> {
  const { paths } = await recordingPaths(folder, '');
  const recordings = new Map<string, Seen>();
  const writing = new Set<string>();
  for (const [path, stamp] of await stampsOf(folder, paths)) {
    const last = before?.recordings.get(path);
    const now = clock();
    const untouched = before === null || path === whole || stamp === last?.stamp;
    const changed = path === whole ? null : untouched ? (last?.changed ?? null) : now;
    recordings.set(path, { stamp, changed });
    if (changed !== null && now - changed < restsAfter) writing.add(path);
  }
  return {
    experiment: await fileStamp(join(folder, 'experiment.yaml')),
    sheets: await sheetsStamp(folder),
    rig: `${await fileStamp(rigChecksPath(folder))} ${await fileStamp(referenceRunsPath(folder))}`,
    recordings,
    writing,
  };
}

/** Whether nothing is to be done about recordings: what is still being written waits. */
function sameList(now: Look, before: Look): boolean {
  if (now.recordings.size !== before.recordings.size || now.writing.size !== before.writing.size)
    return false;
  for (const [path, { stamp }] of now.recordings) {
    const last = before.recordings.get(path);
    if (last === undefined || now.writing.has(path) !== before.writing.has(path)) return false;
    if (stamp !== last.stamp && !now.writing.has(path)) return false;
  }
  return true;
}

/** Another one where anything about the sheets that groups handed in is not as it was. */
async function sheetsStamp(folder: string): Promise<string> {
  const { files, faults } = await findSubmissions(folder);
  return JSON.stringify([
    await stampsOf(
      folder,
      files.map(({ path }) => path),
    ),
    faults,
  ]);
}

async function stampsOf(folder: string, paths: readonly string[]): Promise<[string, string][]> {
  const stamps: [string, string][] = [];
  for (let i = 0; i < paths.length; i += atOnce) {
    const some = paths.slice(i, i + atOnce);
    stamps.push(
      ...(await Promise.all(
        some.map(async (path): Promise<[string, string]> => [path, await fileStamp(join(folder, path))]),
      )),
    );
  }
  return stamps;
}
