import { randomBytes } from 'node:crypto';
import { mkdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

/** A lock of a writer that died is broken after this, ms; what is done under a lock takes a few. */
const abandoned = 15_000;
/** Longest wait for another writer, ms. */
const patience = 20_000;
const pause = 5;

/** The work of this process on each file, one after another: only other processes are met at the lock. */
const queues = new Map<string, Promise<unknown>>();

/**
 * Does some work while nobody else who asks here works on the same file, in this process or another.
 *
 * @param path of the file; the lock is a file beside it with `.lock` behind its name
 * @throws Error where another writer does not come to an end, and whatever the work throws
 */
export async function withFileLock<T>(path: string, work: () => Promise<T>): Promise<T> {
  const before = queues.get(path) ?? Promise.resolve();
  const own = before.then(
    () => underLock(`${path}.lock`, work),
    () => underLock(`${path}.lock`, work),
  );
  queues.set(path, own);
  try {
    return await own;
  } finally {
    if (queues.get(path) === own) queues.delete(path);
  }
}

async function underLock<T>(lock: string, work: () => Promise<T>): Promise<T> {
  const token = randomBytes(12).toString('hex');
  await mkdir(dirname(lock), { recursive: true });
  await take(lock, token);
  try {
    return await work();
  } finally {
    const holder = await readFile(lock, 'utf8').catch(() => '');
    if (holder === token) await rm(lock, { force: true });
  }
}

async function take(lock: string, token: string): Promise<void> {
  for (let waited = 0; waited < patience; waited += pause) {
    try {
      await writeFile(lock, token, { flag: 'wx' });
      return;
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
    }
    if (await isAbandoned(lock)) await rm(lock, { force: true });
    else await wait(pause);
  }
  throw new Error(
    `${lock}: another program has been writing for too long; if none is running, remove this file`,
  );
}

async function isAbandoned(lock: string): Promise<boolean> {
  const found = await stat(lock).catch(() => null);
  return found !== null && Date.now() - found.mtimeMs > abandoned;
}
