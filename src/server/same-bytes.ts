import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { archivedIn, fileHash } from '../store/index.ts';

/** Finds the recording that has the same bytes as a file. */
export type FindSame = (paths: readonly string[], bytes: number, sha256: string) => Promise<string | null>;

/**
 * Only files of the same size are read at all, and each of them once for as long as it does not change.
 *
 * @param folder of the experiment
 */
export function sameBytesIn(folder: string): FindSame {
  const seen = new Map<string, { readonly stamp: string; readonly sha256: string }>();
  const hashOf = async (path: string, stamp: string): Promise<string | null> => {
    const known = seen.get(path);
    if (known?.stamp === stamp) return known.sha256;
    const sha256 = await fileHash(join(folder, path)).catch(() => null);
    if (sha256 === null) return null;
    seen.set(path, { stamp, sha256 });
    return sha256;
  };
  return async (paths, bytes, sha256) => {
    const archived = await archivedIn(folder);
    for (const path of paths) {
      const found = await stat(join(folder, path)).catch(() => null);
      // Of a text that was removed once it was archived, the archive knows which bytes it had.
      if (found === null && archived.get(path)?.sha256 === sha256) return path;
      if (found === null || found.size !== bytes) continue;
      if ((await hashOf(path, `${found.size} ${found.mtimeMs}`)) === sha256) return path;
    }
    return null;
  };
}
