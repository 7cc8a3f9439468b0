import { randomBytes } from 'node:crypto';
import { open, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { withFileLock } from './file-lock.ts';
import { ownMark, processMark, stateOf } from './process-mark.ts';

/** Name of the file that says who serves a folder. */
const serverFileName = '.server.json';

/** How often a server shows that it still runs, ms, and after how long without that it is taken to be gone. */
const beat = 5000;
const silent = 30_000;

const about =
  'Which server works on this folder. It is taken away when that server ends; one that was killed is known to be gone.';

const holderSchema = processMark.extend({
  about: z.string().max(1000),
  /** When it took the folder, by its own clock, ISO 8601. */
  since: z.iso.datetime(),
  token: z.string().max(100),
});

type Holder = z.output<typeof holderSchema>;

/** Another server works on the folder; the message says which, and what to do. */
export class FolderServedError extends Error {
  override readonly name = 'FolderServedError';
}

/** A folder that is this server's alone. */
export interface ServedFolder {
  /** The server before, in words, where it did not end by itself; null where it did. */
  readonly killed: string | null;
  /** Resolves when the folder was lost to another server, as after this machine had slept; never where it was not. */
  readonly lost: Promise<void>;
  /** Gives it back. */
  release(): Promise<void>;
}

/**
 * Takes a folder for one server alone, on this machine or another that shares the folder. One that was killed on this
 * machine is known to be gone at once; one on another machine when it has shown nothing for half a minute, by the clock
 * of the disk, for those of two machines differ.
 *
 * @param now ms since 1970
 * @throws FolderServedError where another server works on it; StoreError where the folder cannot be written to
 */
export async function serveAlone(folder: string, now: number): Promise<ServedFolder> {
  const path = join(folder, serverFileName);
  const token = randomBytes(12).toString('hex');
  const since = new Date(now).toISOString();
  const own = `${JSON.stringify({ about, ...ownMark(), since, token } satisfies Holder, null, 2)}\n`;
  const before = await taken(folder, path, own, token);
  let beating = Promise.resolve();
  let tellLost: () => void = () => undefined;
  const lost = new Promise<void>((resolve) => {
    tellLost = resolve;
  });
  const timer = setInterval(() => {
    beating = beating.then(async () => {
      if ((await showAlive(path, own)) !== 'lost') return;
      clearInterval(timer);
      tellLost();
    });
  }, beat);
  timer.unref();
  return {
    killed: before === null ? null : wordsOf(before),
    lost,
    release: async () => {
      clearInterval(timer);
      await beating;
      if ((await readFile(path, 'utf8').catch(() => '')) === own) await rm(path, { force: true });
    },
  };
}

/** @returns who held it before and is gone; null where nobody did */
async function taken(folder: string, path: string, own: string, token: string): Promise<Holder | null> {
  try {
    // Two that start at once ask one after the other.
    return await withFileLock(path, async () => {
      const holder = await holderOf(path);
      if (holder !== null && (await runs(folder, path, holder, token))) {
        throw new FolderServedError(refusal(folder, holder));
      }
      await writeAtomically(path, own);
      return holder;
    });
  } catch (error) {
    if (error instanceof FolderServedError) throw error;
    throw new StoreError(`${folder}: cannot be written to (${reason(error)})`);
  }
}

/** A file that nobody can read keeps nobody out: it is none that a server wrote. */
async function holderOf(path: string): Promise<Holder | null> {
  try {
    const read = holderSchema.safeParse(JSON.parse(await readFile(path, 'utf8')));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}

async function runs(folder: string, path: string, holder: Holder, token: string): Promise<boolean> {
  const state = stateOf(holder);
  if (state === 'runs' || state === 'gone') return state === 'runs';
  const probe = join(folder, `.server-${token}.tmp`);
  try {
    await writeFile(probe, '', { flag: 'wx' });
    const [present, shown] = [await stat(probe), await stat(path)];
    return present.mtimeMs - shown.mtimeMs < silent;
  } finally {
    await rm(probe, { force: true });
  }
}

/** The same bytes again: the disk writes its own time beside them, and whoever reads meanwhile reads them whole. */
async function showAlive(path: string, own: string): Promise<'shown' | 'lost'> {
  // A disk that is away for a moment is no other server.
  const file = await open(path, 'r+').catch(() => null);
  if (file === null) return 'shown';
  try {
    // By the file that was read: one that takes its name meanwhile is not written to.
    if ((await file.readFile('utf8')) !== own) return 'lost';
    await file.write(own, 0);
    return 'shown';
  } catch {
    return 'shown';
  } finally {
    await file.close();
  }
}

function wordsOf({ host, pid, since }: Holder): string {
  return `process ${pid} on ${host}, since ${since}`;
}

function refusal(folder: string, holder: Holder): string {
  const end =
    stateOf(holder) === 'elsewhere'
      ? 'end that one there by Ctrl-C. Where its machine was switched off, start again in half a minute'
      : 'end that one by Ctrl-C where it was started';
  return `${folder}: another server works on this folder (${wordsOf(holder)}), and two would not know of each other. Open its page, or ${end}.`;
}
