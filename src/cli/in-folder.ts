import { relative, resolve } from 'node:path';

/** A recording's path as typed, from here or from the experiment folder, as the folder calls it. */
export function inFolder(folder: string, path: string): string {
  const from = relative(resolve(folder), resolve(path)).replaceAll('\\', '/');
  return from.startsWith('../') ? path.replaceAll('\\', '/') : from;
}
