import { readFile } from 'node:fs/promises';
import { NamesError, readNames } from '../export/index.ts';
import { OptionError } from './wishes.ts';

/**
 * Names by group code, from a file that was asked for with --names; there is no other way by which names come in.
 *
 * @throws OptionError where it cannot be read
 */
export async function namesFrom(path: string): Promise<Map<string, string>> {
  const text = await readFile(path, 'utf8').catch(() => {
    throw new OptionError(`${path} cannot be read: give a CSV file of code and name with --names`);
  });
  try {
    return readNames(text);
  } catch (error) {
    if (error instanceof NamesError) throw new OptionError(`${path}: ${error.message} ${error.mend}`);
    throw error;
  }
}
