import { join } from 'node:path';
import type { NewRigCheck, RigBook, RigWithdrawal } from '../rig/index.ts';
import { type JsonFile, readJsonFile } from './json-file.ts';
import { mostChecks, type RigFile, rigFile } from './rig-check-schema.ts';
import { RigCheckError } from './rig-error.ts';
import { changeBook, withWithdrawal } from './rig-withdrawal.ts';

const about =
  'Checks of the rigs: what was checked, by whom, when, and what it showed, in SI and as it was typed. Nothing is ever taken out; a check that was taken back is named among those withdrawn.';

const kindOfFile: JsonFile<RigFile> = {
  schema: rigFile,
  // The most checks, each with its longest words.
  largest: 16,
  anew: 'the checks then start anew',
  fail: (message, mend) => new RigCheckError('file', message, mend),
};

const emptyBook: RigBook = { checks: [], withdrawn: [] };

/** Path of the file that holds the checks of an experiment's rigs. */
export function rigChecksPath(folder: string): string {
  return join(folder, 'rig', 'checks.json');
}

/**
 * The checks of an experiment's rigs, those that were taken back among them; none where nobody checked anything.
 *
 * @param folder of the experiment
 * @throws RigCheckError where the file cannot be read
 */
export async function readRigChecks(folder: string): Promise<RigBook> {
  const kept = await readJsonFile(folder, rigChecksPath(folder), kindOfFile);
  return kept === null ? emptyBook : { checks: kept.checks, withdrawn: kept.withdrawn };
}

/**
 * Adds a check. Writers at the same time wait for each other, and none loses anything.
 *
 * @returns all checks, this one at the end
 * @throws RigCheckError where the file cannot be read or written
 */
export async function appendRigCheck(folder: string, check: NewRigCheck): Promise<RigBook> {
  return changed(folder, (book) => {
    if (book.checks.length >= mostChecks) {
      throw new RigCheckError(
        'refused',
        `there are ${mostChecks} checks already`,
        'move rig/checks.json away to start anew',
      );
    }
    return { ...book, checks: [...book.checks, { id: `c${book.checks.length + 1}`, ...check }] };
  });
}

/**
 * Takes a check back. It stays in the file, and does not count any more.
 *
 * @throws RigCheckError where there is no such check, or it is taken back already, or nobody is named; and as above
 */
export async function withdrawRigCheck(folder: string, withdrawal: RigWithdrawal): Promise<RigBook> {
  return changed(folder, ({ checks, withdrawn }) => {
    const ids = checks.map(({ id }) => id);
    return { checks, withdrawn: withWithdrawal({ ids, withdrawn }, withdrawal, 'check') };
  });
}

async function changed(folder: string, change: (book: RigBook) => RigBook): Promise<RigBook> {
  const { checks, withdrawn } = await changeBook(
    folder,
    rigChecksPath(folder),
    rigFile,
    'check',
    async () => {
      return { about, ...change(await readRigChecks(folder)) };
    },
  );
  return { checks, withdrawn };
}
