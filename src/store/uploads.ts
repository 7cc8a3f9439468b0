import { createHash, randomBytes } from 'node:crypto';
import { lstat, mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { flush } from './flush.ts';
import { joinedPieces } from './joined-pieces.ts';
import { leadsOut } from './leads-out.ts';
import { isCode, isWithin, placeNew } from './place-new.ts';
import { plainFile, utf8Text } from './plain-file.ts';
import { TransferError } from './transfer-error.ts';

/** A file that was handed over and has no place yet. */
export interface WaitingFile {
  readonly id: string;
  /** As the person's disk calls it; never a path on this one. */
  readonly name: string;
  /** Whose it is: a group's, or the staff's. */
  readonly owner: string;
  readonly bytes: number;
  /** SHA-256 of its bytes, in hexadecimal. */
  readonly sha256: string;
  /** Where its bytes are. */
  readonly path: string;
}

/** What a file is called, and whose it is. */
type HandedOver = Pick<WaitingFile, 'name' | 'owner'>;

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
   * @throws UploadTooLargeError, TransferError where the sender went away, StoreError; nothing is left behind
   */
  take(file: HandedOver, pieces: AsyncIterable<Uint8Array>, most: number): Promise<WaitingFile>;
  /**
   * Takes a file that is whole already and lies in the same folder. Doing it again after a crash is harmless.
   *
   * @param from where its bytes are
   */
  adopt(file: Omit<WaitingFile, 'path'>, from: string): Promise<WaitingFile>;
  /** Null where there is none (any more). */
  find(id: string): Promise<WaitingFile | null>;
  /** All that wait. */
  list(): Promise<readonly WaitingFile[]>;
  /**
   * Gives a file its place among the recordings. It waits on until `settle`, so that whatever belongs to keeping it can
   * be done again after a crash.
   *
   * @param path from the experiment folder, with / between its parts
   * @throws KeptAlreadyError where something is there: nothing is ever written over; StoreError
   */
  keep(id: string, path: string): Promise<void>;
  /**
   * Lets a file go whose bytes are a recording by now.
   *
   * @param path of that recording
   */
  settle(id: string, path: string): Promise<void>;
  /** The place that a file was given, for whoever asks again because the answer was lost; for a day. */
  placeOf(id: string): Promise<(Pick<WaitingFile, 'owner' | 'sha256'> & { readonly path: string }) | null>;
  /** Takes a file away that is not to be kept. */
  leaveOut(id: string): Promise<void>;
  /** Takes files away that nobody kept for a day. */
  sweep(now: number): Promise<void>;
}

/** Who hands files over that are no group's. */
export const staffOwner = 'staff';

/** How waiting files and transfers are named. */
export const uploadId = /^[0-9a-f]{32}$/;
/** A note holds a name, a path and a hash, bytes. */
const largestNote = 16_384;
const noteSchema = z.object({
  name: z.string(),
  owner: z.string().default(staffOwner),
  bytes: z.number(),
  sha256: z.string(),
  /** Its place, once it has one. */
  kept: z.string().nullable().default(null),
});
/** A day, ms. */
export const longestWait = 86_400_000;

/** The hidden folder of an experiment in which files wait: keeping one is then no copy. */
export function waitingFolder(folder: string): string {
  return join(folder, '.uploads');
}

/**
 * Makes that folder.
 *
 * @throws StoreError where it is a link that leads out
 */
export async function openWaitingFolder(folder: string): Promise<void> {
  const waiting = waitingFolder(folder);
  await mkdir(waiting, { recursive: true });
  if (await leadsOut(folder, waiting)) {
    throw new StoreError('The folder .uploads is a link that leads elsewhere.');
  }
}

/**
 * The waiting files of an experiment folder.
 *
 * @param folder of the experiment
 */
export function openUploads(folder: string): Uploads {
  const waiting = waitingFolder(folder);
  const bytesOf = (id: string) => join(waiting, `${id}.bytes`);
  const noteOf = (id: string) => join(waiting, `${id}.json`);

  const readNote = async (id: string) => {
    if (!uploadId.test(id)) return null;
    // Somebody who can put files here must not have others read through links.
    if (await leadsOut(folder, waiting)) return null;
    const bytes = await plainFile(noteOf(id), largestNote);
    const note = noteSchema.safeParse(parsed((typeof bytes === 'string' ? null : utf8Text(bytes)) ?? ''));
    return note.success ? note.data : null;
  };
  const find = async (id: string): Promise<WaitingFile | null> => {
    const note = await readNote(id);
    if (note === null || note.kept !== null) return null;
    const isPlain = await lstat(bytesOf(id)).then(
      (found) => found.isFile(),
      () => false,
    );
    if (!isPlain) return null;
    const { name, owner, bytes, sha256 } = note;
    return { id, name, owner, bytes, sha256, path: bytesOf(id) };
  };
  const adopt: Uploads['adopt'] = async ({ id, name, owner, bytes, sha256 }, from) => {
    await rename(from, bytesOf(id)).catch(async (error: unknown) => {
      // It was renamed before a crash.
      if (!isCode(error, 'ENOENT') || (await stat(bytesOf(id)).catch(() => null)) === null) throw error;
    });
    await writeAtomically(noteOf(id), JSON.stringify({ name, owner, bytes, sha256 }));
    return { id, name, owner, bytes, sha256, path: bytesOf(id) };
  };
  const settle = async (id: string, kept: string) => {
    const note = await readNote(id);
    if (note !== null)
      await writeAtomically(noteOf(id), JSON.stringify({ ...note, kept })).catch(() => undefined);
    await rm(bytesOf(id), { force: true }).catch(() => undefined);
  };

  return {
    find,
    adopt,
    list: async () => {
      const names = await readdir(waiting).catch(() => []);
      const ids = names
        .filter((name) => name.endsWith('.json'))
        .map((name) => name.slice(0, -'.json'.length));
      const found = await Promise.all(ids.map(find));
      return found.filter((file) => file !== null);
    },
    take: async (file, pieces, most) => {
      const id = randomBytes(16).toString('hex');
      const draft = join(waiting, `${id}.part`);
      try {
        await openWaitingFolder(folder);
        const { bytes, sha256 } = await written(draft, pieces, most);
        return await adopt({ id, ...file, bytes, sha256 }, draft);
      } catch (error) {
        for (const path of [draft, bytesOf(id)]) await rm(path, { force: true }).catch(() => undefined);
        if (error instanceof UploadTooLargeError || error instanceof TransferError) throw error;
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
    },
    settle,
    placeOf: async (id) => {
      const note = await readNote(id);
      if (note === null || note.kept === null) return null;
      return { owner: note.owner, sha256: note.sha256, path: note.kept };
    },
    leaveOut: async (id) => {
      if (!uploadId.test(id)) return;
      for (const path of [noteOf(id), bytesOf(id)]) await rm(path, { force: true });
    },
    sweep: async (now) => {
      if (await leadsOut(folder, waiting).catch(() => true)) return;
      for (const name of await readdir(waiting).catch(() => [])) {
        if (!/^[0-9a-f]{32}\.(?:bytes|json|part|transfer)$/.test(name)) continue;
        const path = join(waiting, name);
        const found = await stat(path).catch(() => null);
        if (found !== null && now - found.mtimeMs > longestWait) await rm(path, { force: true });
      }
    },
  };
}

async function written(path: string, pieces: AsyncIterable<Uint8Array>, most: number) {
  const hash = createHash('sha256');
  let bytes = 0;
  const file = await open(path, 'wx');
  try {
    for await (const piece of joinedPieces(pieces)) {
      bytes += piece.length;
      if (bytes > most) throw new UploadTooLargeError(`The file has more than ${most} bytes.`);
      hash.update(piece);
      await file.writeFile(piece);
    }
    await flush(file);
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
