import { randomBytes } from 'node:crypto';
import { link, mkdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { ownMark, processMark, stateOf } from './process-mark.ts';

/** A lock of a writer of whom nobody here can tell is broken after this, ms; what is done under a lock takes a few. */
const abandoned = 15_000;
/** Longest wait for another writer, ms. */
const patience = 20_000;
const pause = 5;

/** The work of this process on each file, one after another: only other processes are met at the lock. */
const queues = new Map<string, Promise<unknown>>();

/**
 * Does some work while nobody else who asks here works on the same file, in this process or another. The lock of a
 * process that ended without giving it back is broken at once where it ran on this machine.
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
  const text = JSON.stringify({ ...ownMark(), token });
  await mkdir(dirname(lock), { recursive: true });
  await take(lock, text, token);
  try {
    return await work();
  } finally {
    const holder = await readFile(lock, 'utf8').catch(() => '');
    if (holder === text) await rm(lock, { force: true });
  }
}

async function take(lock: string, text: string, token: string): Promise<void> {
  const until = performance.now() + patience;
  while (performance.now() < until) {
    const state = await stateOfLock(lock);
    if (state === 'free' && (await made(lock, text, token))) return;
    if (state === 'abandoned') await breakLock(lock, text, token);
    else await wait(pause);
  }
  throw new Error(
    `${lock}: another program has been writing for too long; if none is running, remove this file`,
  );
}

/** Makes a lock that holds its text from the first moment on: one without would say nothing about a killed writer. */
async function made(lock: string, text: string, token: string): Promise<boolean> {
  const draft = `${lock}-${token}`;
  try {
    await writeFile(draft, text, { flag: 'wx' });
    await link(draft, lock);
    return true;
  } catch (error) {
    if (hasCode(error, 'EEXIST')) return false;
    // Some disks have no second names.
    return await madeInPlace(lock, text);
  } finally {
    await rm(draft, { force: true });
  }
}

async function madeInPlace(lock: string, text: string): Promise<boolean> {
  try {
    await writeFile(lock, text, { flag: 'wx' });
    return true;
  } catch (error) {
    if (hasCode(error, 'EEXIST')) return false;
    throw error;
  }
}

/**
 * Takes an abandoned lock away. Of several who find it, one does so: another one, late, would take away the lock that
 * the first has made by then.
 */
async function breakLock(lock: string, text: string, token: string): Promise<void> {
  const breaking = `${lock}.break`;
  if (!(await made(breaking, text, token))) {
    if ((await stateOfLock(breaking)) === 'abandoned') await rm(breaking, { force: true });
    else await wait(pause);
    return;
  }
  try {
    if ((await stateOfLock(lock)) === 'abandoned') await rm(lock, { force: true });
  } finally {
    await rm(breaking, { force: true });
  }
}

async function stateOfLock(lock: string): Promise<'free' | 'held' | 'abandoned'> {
  const found = await stat(lock).catch(() => null);
  if (found === null) return 'free';
  const text = await readFile(lock, 'utf8').catch(() => null);
  if (text === null) return 'held';
  const holder = holderIn(text);
  const state = holder === null ? 'elsewhere' : stateOf(holder);
  if (state === 'gone') return 'abandoned';
  return state !== 'runs' && Date.now() - found.mtimeMs > abandoned ? 'abandoned' : 'held';
}

function holderIn(text: string) {
  try {
    const read = processMark.safeParse(JSON.parse(text));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}

function hasCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}
