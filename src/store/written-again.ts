import { createHash } from 'node:crypto';
import { mkdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { insideFolder } from './inside-folder.ts';

/** Remembers in a folder what was written there, so that what a person changed since is known. */
const bookName = '.written.json';
const bookSchema = z.record(z.string(), z.string());
/** Larger files are no texts of ours, bytes. */
const largest = 4 << 20;

/** What became of files that were written. */
export interface WrittenAgain {
  readonly written: readonly string[];
  /** Left alone: a person changed them since, or put them there. */
  readonly kept: readonly string[];
}

/**
 * Writes texts into a folder, over those that were written there before; one that a person changed since stays.
 *
 * @param files by name
 * @param force writes over what was changed as well
 * @throws StoreError where the folder cannot be written to
 */
export async function writeAgain(
  folder: string,
  files: ReadonlyMap<string, string>,
  force: boolean,
): Promise<WrittenAgain> {
  const written: string[] = [];
  const kept: string[] = [];
  try {
    await mkdir(folder, { recursive: true });
    const book = await readBook(folder);
    for (const [name, text] of files) {
      const path = join(folder, insideFolder(name));
      const there = await textAt(path);
      const own = there === null || there === text || hashOf(there) === book[name];
      if (!own && !force) {
        kept.push(name);
        continue;
      }
      if (there !== text) await writeAtomically(path, text);
      book[name] = hashOf(text);
      written.push(name);
    }
    await writeAtomically(join(folder, bookName), `${JSON.stringify(book, null, 2)}\n`);
  } catch (error) {
    if (error instanceof StoreError) throw error;
    throw new StoreError(`${folder} cannot be written to (${reason(error)}). Take another place.`);
  }
  return { written, kept };
}

async function readBook(folder: string): Promise<Record<string, string>> {
  const text = await textAt(join(folder, bookName));
  try {
    const read = bookSchema.safeParse(JSON.parse(text ?? '{}'));
    return read.success ? read.data : {};
  } catch {
    return {};
  }
}

/** Null where there is no file. */
async function textAt(path: string): Promise<string | null> {
  const found = await stat(path).catch(() => null);
  if (found === null) return null;
  if (!found.isFile() || found.size > largest) {
    throw new StoreError(`${path} is no text that was written here. Move it away.`);
  }
  return readFile(path, 'utf8');
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
