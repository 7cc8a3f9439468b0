import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { join } from 'node:path';

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
    const hash = createHash('sha256');
    try {
      for await (const piece of createReadStream(join(folder, path))) hash.update(piece);
    } catch {
      return null;
    }
    const sha256 = hash.digest('hex');
    seen.set(path, { stamp, sha256 });
    return sha256;
  };
  return async (paths, bytes, sha256) => {
    for (const path of paths) {
      const found = await stat(join(folder, path)).catch(() => null);
      if (found === null || found.size !== bytes) continue;
      if ((await hashOf(path, `${found.size} ${found.mtimeMs}`)) === sha256) return path;
    }
    return null;
  };
}
