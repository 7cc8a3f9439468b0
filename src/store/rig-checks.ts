import { join } from 'node:path';
import type { NewRigCheck, RigBook, RigWithdrawal } from '../rig/index.ts';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { withFileLock } from './file-lock.ts';
import { firstFault, type JsonFile, readJsonFile } from './json-file.ts';
import { mostChecks, type RigFile, rigFile } from './rig-check-schema.ts';
import { RigCheckError } from './rig-error.ts';

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
  const kept = await readJsonFile(rigChecksPath(folder), kindOfFile);
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
  const { id, at } = withdrawal;
  const who = withdrawal.who.trim();
  const why = withdrawal.why.trim();
  return changed(folder, (book) => {
    if (who === '' || why === '') {
      throw new RigCheckError('refused', 'who takes the check back and why is not said', 'give both');
    }
    if (!book.checks.some((check) => check.id === id)) {
      throw new RigCheckError(
        'refused',
        `there is no check ${id.slice(0, 60)}`,
        'name one of those that are listed',
      );
    }
    if (book.withdrawn.some((one) => one.id === id)) {
      throw new RigCheckError('refused', `check ${id} is taken back already`, 'name another one');
    }
    return { ...book, withdrawn: [...book.withdrawn, { id, at, who, why }] };
  });
}

async function changed(folder: string, change: (book: RigBook) => RigBook): Promise<RigBook> {
  const path = rigChecksPath(folder);
  try {
    return await withFileLock(path, async () => {
      const book = change(await readRigChecks(folder));
      const read = rigFile.safeParse({ about, ...book });
      if (!read.success) {
        throw new RigCheckError('refused', 'the check is not complete', `mend ${firstFault(read.error)}`);
      }
      await writeAtomically(path, `${JSON.stringify(read.data, null, 2)}\n`);
      return { checks: read.data.checks, withdrawn: read.data.withdrawn };
    });
  } catch (error) {
    if (error instanceof RigCheckError) throw error;
    throw new RigCheckError('file', `${path}: cannot be written (${reason(error)})`, 'check the folder');
  }
}
