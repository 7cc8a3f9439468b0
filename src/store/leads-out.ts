import { realpath } from 'node:fs/promises';
import { dirname, resolve, sep } from 'node:path';

/**
 * Whether a place in a folder is really elsewhere, links followed as far as anything is there. Behind a link that leads
 * out lies what is nobody's business here, and what must not be written over.
 *
 * @param folder that is there; it may be a link itself
 * @param path that begins with the folder, whether there is anything or not
 */
export async function leadsOut(folder: string, path: string): Promise<boolean> {
  const outer = await realpath(folder);
  // From the root on: a folder that is named as `.` is in no path's beginning.
  for (let at = resolve(path); at !== dirname(at); at = dirname(at)) {
    const real = await realpath(at).catch(() => null);
    if (real !== null) return real !== outer && !real.startsWith(outer.endsWith(sep) ? outer : outer + sep);
  }
  return true;
}

/** What to do about a link that leads out, for the mend of a message. */
export const noLinkOut = 'put the file or folder itself there';
