import { sep } from 'node:path';

/**
 * A path from a folder that stays inside it.
 *
 * @param path with / between its parts
 * @returns the same path
 * @throws RangeError for one that is absolute or climbs out
 */
export function insideFolder(path: string): string {
  const odd = path.split('/').some((part) => {
    return part === '' || part === '.' || part === '..' || part.includes('\0') || part.includes(sep);
  });
  if (odd) throw new RangeError(`${JSON.stringify(path.slice(0, 200))} is no path inside the folder.`);
  return path;
}
