import { writeFile } from 'node:fs/promises';
import { OptionError } from './wishes.ts';

/**
 * Writes a file that somebody asked for.
 *
 * @param force writes over one that is there
 * @throws OptionError where one is there, or the place cannot be written to
 */
export async function writeNewFile(
  path: string,
  content: string | Uint8Array,
  force: boolean,
): Promise<void> {
  try {
    await writeFile(path, content, { flag: force ? 'w' : 'wx' });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    if (code === 'EEXIST') {
      throw new OptionError(
        `${path} is there already: give another name with --to, or --force to write over it`,
      );
    }
    throw new OptionError(`${path} cannot be written (${String(code)}): give another place with --to`);
  }
}
