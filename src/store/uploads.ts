import { createHash, randomBytes } from 'node:crypto';
import { lstat, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { leadsOut } from './leads-out.ts';
import { isCode, isWithin, placeNew } from './place-new.ts';
import { plainFile, utf8Text } from './plain-file.ts';

/** A file that was handed over and has no place yet. */
export interface WaitingFile {
  readonly id: string;
  /** As the person's disk calls it; never a path on this one. */
  readonly name: string;
  readonly bytes: number;
  /** SHA-256 of its bytes, in hexadecimal. */
  readonly sha256: string;
  /** Where its bytes are. */
  readonly path: string;
}

/** More bytes than are taken. */
export class UploadTooLargeError extends Error {
  override readonly name = 'UploadTooLargeError';
}

/** There is a file at the place where one was to be kept. */
export class KeptAlreadyError extends Error {
  override readonly name = 'KeptAlreadyError';
}

/** Files that wait for a person to say what they are of. They outlive the server. */
export interface Uploads {
  /**
   * Takes a file in, as it comes.
   *
   * @param most bytes
   * @throws UploadTooLargeError, StoreError; nothing is left behind
   */
  take(name: string, pieces: AsyncIterable<Uint8Array>, most: number): Promise<WaitingFile>;
  /** Null where there is none (any more). */
  find(id: string): Promise<WaitingFile | null>;
  /**
   * Gives a file its place among the recordings.
   *
   * @param path from the experiment folder, with / between its parts
   * @throws KeptAlreadyError where something is there: nothing is ever written over; StoreError
   */
  keep(id: string, path: string): Promise<void>;
  /** Takes files away that nobody kept for a day. */
  sweep(now: number): Promise<void>;
}

const idForm = /^[0-9a-f]{32}$/;
/** A note holds a name and a hash, bytes. */
const largestNote = 4096;
const noteSchema = z.object({ name: z.string(), bytes: z.number(), sha256: z.string() });
/** A day, ms. */
const longest = 86_400_000;
/** More than a course has in one session; beyond it somebody fills the disk. */
const mostWaiting = 1000;

/**
 * The waiting files of an experiment folder, in a hidden folder inside it: keeping one is then no copy.
 *
 * @param folder of the experiment
 */
export function openUploads(folder: string): Uploads {
  const waiting = join(folder, '.uploads');
  const bytesOf = (id: string) => join(waiting, `${id}.bytes`);
  const noteOf = (id: string) => join(waiting, `${id}.json`);

  const find = async (id: string): Promise<WaitingFile | null> => {
    if (!idForm.test(id)) return null;
    // Somebody who can put files here must not have others read through links.
    if (await leadsOut(folder, waiting)) return null;
    const bytes = await plainFile(noteOf(id), largestNote);
    const note = noteSchema.safeParse(parsed((typeof bytes === 'string' ? null : utf8Text(bytes)) ?? ''));
    if (!note.success) return null;
    const isPlain = await lstat(bytesOf(id)).then(
      (found) => found.isFile(),
      () => false,
    );
    return isPlain ? { id, path: bytesOf(id), ...note.data } : null;
  };

  return {
    find,
    take: async (name, pieces, most) => {
      const id = randomBytes(16).toString('hex');
      const draft = join(waiting, `${id}.part`);
      try {
        await mkdir(waiting, { recursive: true });
        if (await leadsOut(folder, waiting)) {
          throw new StoreError('The folder .uploads is a link that leads elsewhere.');
        }
        if ((await readdir(waiting)).length > 2 * mostWaiting) {
          throw new StoreError('Too many files wait here already.');
        }
        const { bytes, sha256 } = await written(draft, pieces, most);
        await rename(draft, bytesOf(id));
        await writeAtomically(noteOf(id), JSON.stringify({ name, bytes, sha256 }));
        return { id, name, bytes, sha256, path: bytesOf(id) };
      } catch (error) {
        for (const path of [draft, bytesOf(id)]) await rm(path, { force: true }).catch(() => undefined);
        if (error instanceof UploadTooLargeError || error instanceof StoreError) throw error;
        throw new StoreError(`The file cannot be taken in (${reason(error)}).`);
      }
    },
    keep: async (id, path) => {
      const file = await find(id);
      if (file === null) throw new StoreError('The file is not waiting any more.');
      const target = join(folder, path);
      try {
        await mkdir(dirname(target), { recursive: true });
        if (!(await isWithin(folder, dirname(target)))) {
          throw new StoreError('The folder of this recording is a link that leads elsewhere.');
        }
        await placeNew(file.path, target);
      } catch (error) {
        if (error instanceof StoreError) throw error;
        if (isCode(error, 'EEXIST')) throw new KeptAlreadyError(`There is a file at ${path} already.`);
        throw new StoreError(`The recording cannot be put at ${path} (${reason(error)}).`);
      }
      for (const gone of [file.path, noteOf(id)]) await rm(gone, { force: true }).catch(() => undefined);
    },
    sweep: async (now) => {
      if (await leadsOut(folder, waiting).catch(() => true)) return;
      for (const name of await readdir(waiting).catch(() => [])) {
        if (!/^[0-9a-f]{32}\.(?:bytes|json|part)$/.test(name)) continue;
        const path = join(waiting, name);
        const found = await stat(path).catch(() => null);
        if (found !== null && now - found.mtimeMs > longest) await rm(path, { force: true });
      }
    },
  };
}

async function written(path: string, pieces: AsyncIterable<Uint8Array>, most: number) {
  const hash = createHash('sha256');
  let bytes = 0;
  const file = await open(path, 'wx');
  try {
    for await (const piece of pieces) {
      bytes += piece.length;
      if (bytes > most) throw new UploadTooLargeError(`The file has more than ${most} bytes.`);
      hash.update(piece);
      await file.writeFile(piece);
    }
    await file.sync();
  } finally {
    await file.close();
  }
  return { bytes, sha256: hash.digest('hex') };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
