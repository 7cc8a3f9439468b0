import { createHash, randomBytes } from 'node:crypto';
import { chmod, lstat, mkdir, open, readdir, realpath, rename, rm, rmdir, utimes } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { reason } from './experiment-file.ts';

/** A practice folder or key that could not be made; the message says why and what to do. */
export class PracticeFolderError extends Error {
  override readonly name = 'PracticeFolderError';
}

/** Where a practice set goes. */
interface PracticePlaces {
  /** Folder that is handed out. */
  readonly out: string;
  /** File that the instructor keeps. */
  readonly key: string;
}

/**
 * A practice folder while it is made. Everything goes into a hidden folder beside it, which takes its name at the end:
 * either the whole set is there or nothing.
 */
export interface PracticeFolder {
  /**
   * Writes a file.
   *
   * @param path from the folder, with / between its parts
   * @returns SHA-256 of its bytes, in hexadecimal
   */
  write(path: string, pieces: Iterable<Uint8Array>): Promise<string>;
  /** Writes the key, for its owner's eyes alone, and gives the folder its name. */
  finish(key: string): Promise<void>;
  /** Takes everything away that was written. */
  discard(): Promise<void>;
}

/**
 * Begins a practice folder.
 *
 * @throws PracticeFolderError where the folder holds anything or the key exists, or where the key would be inside it
 */
export async function openPracticeFolder({ out, key }: PracticePlaces): Promise<PracticeFolder> {
  const target = await realPlace(out);
  const keyPlace = await realPlace(key);
  if (isWithin(target, keyPlace)) {
    throw new PracticeFolderError(
      `${key}: the key would be among the recordings that are handed out; give --key a place outside ${out}`,
    );
  }
  const there = await refuseIfTaken(out, key);
  const parent = dirname(target);
  const draft = join(parent, `.${basename(target)}-${randomBytes(6).toString('hex')}`);
  await mkdir(parent, { recursive: true })
    .then(() => mkdir(draft))
    .catch((error: unknown) => {
      throw new PracticeFolderError(
        `${out}: the folder cannot be made (${reason(error)}); take another path`,
      );
    });
  const folders = new Set<string>([draft]);
  const now = new Date();
  const discard = () => rm(draft, { recursive: true, force: true });
  return {
    discard,
    write: async (path, pieces) => {
      const place = resolve(draft, path);
      if (!isWithin(draft, place) || place === draft) {
        throw new PracticeFolderError(
          `${path}: leads out of the folder; give bodies, flows and groups other codes`,
        );
      }
      for (let folder = dirname(place); folder !== draft; folder = dirname(folder)) folders.add(folder);
      try {
        await mkdir(dirname(place), { recursive: true });
        const digest = await writeWhole(place, pieces);
        // All at one moment: when a file was written says which took longest.
        await utimes(place, now, now);
        return digest;
      } catch (error) {
        throw new PracticeFolderError(
          `${join(out, path)}: cannot be written (${reason(error)}); check the disk`,
        );
      }
    },
    finish: async (text) => {
      for (const folder of [...folders].sort().reverse()) await utimes(folder, now, now);
      await writeKey(key, text);
      try {
        if (there) await rmdir(target);
        await rename(draft, target);
      } catch (error) {
        await rm(key, { force: true });
        throw new PracticeFolderError(
          `${out}: the folder could not take its place (${reason(error)}); take another path`,
        );
      }
    },
  };
}

/** Whether the folder is there already, empty. */
async function refuseIfTaken(out: string, key: string): Promise<boolean> {
  if (await exists(key)) {
    throw new PracticeFolderError(
      `${key}: is there already and was left as it is; move it away, or give --key another name`,
    );
  }
  if (!(await exists(out))) return false;
  const held = await readdir(out).catch((error: unknown) => {
    throw new PracticeFolderError(
      `${out}: is no folder that can be used (${reason(error)}); give --out another path`,
    );
  });
  if (held.length === 0) return true;
  throw new PracticeFolderError(
    `${out}: is there already and was left as it is; move it away, or give --out another path`,
  );
}

async function exists(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    () => false,
  );
}

/** The path with all links in the part of it that exists followed. */
async function realPlace(path: string): Promise<string> {
  const whole = resolve(path);
  const rest: string[] = [];
  for (let at = whole; ; at = dirname(at)) {
    const real = await realpath(at).catch(() => null);
    if (real !== null) return join(real, ...rest);
    if (dirname(at) === at) return whole;
    rest.unshift(basename(at));
  }
}

/** Some disks do not tell capitals apart. */
function isWithin(folder: string, path: string): boolean {
  const way = relative(folder.toLowerCase(), path.toLowerCase());
  return way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

async function writeWhole(path: string, pieces: Iterable<Uint8Array>): Promise<string> {
  const hash = createHash('sha256');
  const file = await open(path, 'wx');
  try {
    for (const piece of pieces) {
      hash.update(piece);
      await file.writeFile(piece);
    }
    await file.sync();
  } finally {
    await file.close();
  }
  return hash.digest('hex');
}

/** Read and write for the owner, nothing for others. */
const ownerOnly = 0o600;
const ownersFolder = 0o700;

async function writeKey(path: string, text: string): Promise<void> {
  const fail = (error: unknown) => {
    return new PracticeFolderError(
      `${path}: the key cannot be written (${reason(error)}); give --key another place`,
    );
  };
  await mkdir(dirname(resolve(path)), { recursive: true, mode: ownersFolder }).catch((error: unknown) => {
    throw fail(error);
  });
  // `wx` fails on anything that has this name, a dangling link among them.
  const file = await open(path, 'wx', ownerOnly).catch((error: unknown) => {
    throw fail(error);
  });
  try {
    await file.writeFile(text);
    await file.sync();
  } catch (error) {
    await rm(path, { force: true });
    throw fail(error);
  } finally {
    await file.close();
  }
  await chmod(path, ownerOnly).catch(() => undefined);
}
