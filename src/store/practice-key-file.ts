import { readFile, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { practiceKeySchema, type ReadPracticeKey } from '../practice/index.ts';
import { reason } from './experiment-file.ts';
import { openSealed, PracticeKeyError } from './practice-seal.ts';

/** Larger files are not even read, bytes. */
const largest = 64 << 20;
/** A passphrase stands in one line. */
const longestPassphrase = 4096;

/** Where the key of a folder stands by default: next to it. */
export function usualKeyPath(out: string): string {
  const plain = out.replace(/[\\/]+$/, '');
  return join(`${plain}-answers`, 'key.json');
}

/**
 * The key that a path means: the file itself, or for a folder the key in it or next to it.
 *
 * @throws PracticeKeyError where there is none, or more than one
 */
export async function findPracticeKey(path: string): Promise<string> {
  const found = await stat(path).catch((error: unknown) => {
    throw new PracticeKeyError(`${path}: cannot be read (${reason(error)}); name the key file`);
  });
  if (!found.isDirectory()) return path;
  const candidates = [
    join(path, 'key.json'),
    ...(/^\.{1,2}$/.test(basename(path)) ? [] : [usualKeyPath(path)]),
    usualKeyPath(join(path, 'practice')),
    usualKeyPath(join(path, 'exercise')),
  ];
  const there: string[] = [];
  for (const one of candidates) if (await isFile(one)) there.push(one);
  const [first, second] = there;
  if (first === undefined) {
    throw new PracticeKeyError(`${path}: there is no key in or beside this folder; name the key file`);
  }
  if (second !== undefined) {
    throw new PracticeKeyError(`${path}: there are several keys: ${there.join(', ')}; name one of them`);
  }
  return first;
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}

/**
 * Reads and opens a key.
 *
 * @param path of the file
 * @throws PracticeKeyError that names the file where it cannot be read or opened
 */
export async function readPracticeKey(path: string, passphrase: string | null): Promise<ReadPracticeKey> {
  const text = await readBounded(path, largest);
  try {
    const read = practiceKeySchema.safeParse(JSON.parse(openSealed(text, passphrase)));
    if (read.success) return read.data;
    throw new PracticeKeyError(
      'was made by another version, or changed by hand; make the set again from its seed',
    );
  } catch (error) {
    if (error instanceof PracticeKeyError) throw new PracticeKeyError(`${path}: ${error.message}`);
    if (error instanceof SyntaxError)
      throw new PracticeKeyError(`${path}: is damaged; make the set again from its seed`);
    throw error;
  }
}

/**
 * A passphrase from the first line of a file.
 *
 * @throws PracticeKeyError where there is none
 */
export async function readPassphrase(path: string): Promise<string> {
  const [line = ''] = (await readBounded(path, longestPassphrase)).split(/\r?\n/);
  if (line.trim() === '') {
    throw new PracticeKeyError(`${path}: the first line is empty; write the passphrase there`);
  }
  return line;
}

async function readBounded(path: string, most: number): Promise<string> {
  const found = await stat(path).catch((error: unknown) => {
    throw new PracticeKeyError(`${path}: cannot be read (${reason(error)}); check the path`);
  });
  if (!found.isFile()) throw new PracticeKeyError(`${path}: is not a file; name the file itself`);
  if (found.size > most)
    throw new PracticeKeyError(`${path}: is too large for what it should be; check the path`);
  return readFile(path, 'utf8').catch((error: unknown) => {
    throw new PracticeKeyError(`${path}: cannot be read (${reason(error)}); check its permissions`);
  });
}
