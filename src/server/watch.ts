import { createHash } from 'node:crypto';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { recordingPaths, rigChecksPath } from '../store/index.ts';

/** How long a folder is left alone between two looks, ms; longer where a look takes long. */
const shortestPause = 3000;

/** Watching of a folder. */
export interface Watching {
  /** Looks at once, and tells of what is new. */
  look(): Promise<void>;
  stop(): void;
}

/** What of the folder is not as it was. */
export interface FolderChange {
  readonly experiment: boolean;
  readonly recordings: boolean;
  /** Whether rigs were checked. */
  readonly rig: boolean;
}

/**
 * Looks at an experiment folder again and again, by names, sizes and times of its files: notices of the system itself
 * are missing on network disks.
 *
 * @param folder of the experiment
 * @param onChange told of every change after the first look
 */
export async function watchFolder(
  folder: string,
  onChange: (change: FolderChange) => Promise<void>,
): Promise<Watching> {
  let seen = await stampsOf(folder);
  let looking = Promise.resolve();
  const once = async () => {
    const now = await stampsOf(folder);
    const change = {
      experiment: now.experiment !== seen.experiment,
      recordings: now.recordings !== seen.recordings,
      rig: now.rig !== seen.rig,
    };
    seen = now;
    if (change.experiment || change.recordings || change.rig) await onChange(change);
  };
  const look = () => {
    looking = looking.then(once, once);
    return looking;
  };
  let timer: NodeJS.Timeout | null = null;
  let pause = shortestPause;
  const timed = async () => {
    const start = performance.now();
    await look().catch(() => undefined);
    pause = Math.max(shortestPause, 20 * (performance.now() - start));
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

async function stampsOf(folder: string) {
  const { paths } = await recordingPaths(folder, '');
  const hash = createHash('sha256');
  for (const path of paths) hash.update(`${path}\0${await stampOf(join(folder, path))}\n`);
  return {
    experiment: await stampOf(join(folder, 'experiment.yaml')),
    recordings: hash.digest('hex'),
    rig: await stampOf(rigChecksPath(folder)),
  };
}

async function stampOf(path: string): Promise<string> {
  return stat(path).then(
    ({ size, mtimeMs }) => `${size} ${mtimeMs}`,
    () => 'gone',
  );
}
