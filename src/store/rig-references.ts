import { join } from 'node:path';
import { z } from 'zod';
import type { NewReferenceRun, ReferenceBook, RigWithdrawal } from '../rig/index.ts';
import { type JsonFile, readJsonFile } from './json-file.ts';
import { RigCheckError } from './rig-error.ts';
import {
  changeBook,
  entryCode,
  entryId,
  entryNote,
  moment,
  signature,
  withdrawalSchema,
  withWithdrawal,
} from './rig-withdrawal.ts';

const about =
  'Reference runs: trials that instructors made themselves, by bench and term, with the time constant in s and what was expected. Nothing is ever taken out; a run that was taken back is named among those withdrawn.';

/** More than anybody makes: ten a week for ten years. */
const mostRuns = 5000;

const positive = z.number().positive().max(1e6);

const run = z.strictObject({
  id: entryId,
  at: moment,
  who: signature,
  term: z.string().min(1).max(60),
  bench: entryCode.nullable(),
  recording: z.string().min(1).max(1000),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  body: entryCode,
  flow: entryCode,
  /** s */
  timeConstant: positive,
  standardUncertainty: z.number().min(0).max(1e6),
  interval: z.tuple([z.number().min(0), z.number().min(0)]),
  expected: z
    .strictObject({
      value: positive,
      relative: z.number().min(0).max(100),
      source: z.enum(['prediction', 'bench-mean']),
    })
    .nullable(),
  note: entryNote,
});

const referenceFile = z
  .strictObject({
    about: z.string().max(1000),
    runs: z.array(run).max(mostRuns),
    withdrawn: z.array(withdrawalSchema).max(mostRuns),
  })
  .refine(({ runs }) => new Set(runs.map((one) => one.id)).size === runs.length, {
    error: 'two runs have the same id',
  });

const kindOfFile: JsonFile<z.output<typeof referenceFile>> = {
  schema: referenceFile,
  largest: 16,
  anew: 'the reference runs then start anew',
  fail: (message, mend) => new RigCheckError('file', message, mend),
};

/** Path of the file that holds the reference runs of an experiment's rigs. */
export function referenceRunsPath(folder: string): string {
  return join(folder, 'rig', 'reference-runs.json');
}

/**
 * The reference runs of an experiment's rigs, those that were taken back among them; none where nobody kept any.
 *
 * @param folder of the experiment
 * @throws RigCheckError where the file cannot be read
 */
export async function readReferenceRuns(folder: string): Promise<ReferenceBook> {
  const kept = await readJsonFile(folder, referenceRunsPath(folder), kindOfFile);
  return kept === null ? { runs: [], withdrawn: [] } : { runs: kept.runs, withdrawn: kept.withdrawn };
}

/**
 * Adds a reference run. Writers at the same time wait for each other, and none loses anything.
 *
 * @returns all runs, this one at the end
 * @throws RigCheckError where the file cannot be read or written
 */
export async function appendReferenceRun(folder: string, added: NewReferenceRun): Promise<ReferenceBook> {
  return changed(folder, (book) => {
    if (book.runs.length >= mostRuns) {
      throw new RigCheckError(
        'refused',
        `there are ${mostRuns} reference runs already`,
        'move rig/reference-runs.json away to start anew',
      );
    }
    return { ...book, runs: [...book.runs, { id: `r${book.runs.length + 1}`, ...added }] };
  });
}

/**
 * Takes a reference run back. It stays in the file, and does not count any more.
 *
 * @throws RigCheckError where there is no such run, or it is taken back already, or nobody is named; and as above
 */
export async function withdrawReferenceRun(
  folder: string,
  withdrawal: RigWithdrawal,
): Promise<ReferenceBook> {
  return changed(folder, ({ runs, withdrawn }) => {
    const ids = runs.map(({ id }) => id);
    return { runs, withdrawn: withWithdrawal({ ids, withdrawn }, withdrawal, 'reference run') };
  });
}

async function changed(
  folder: string,
  change: (book: ReferenceBook) => ReferenceBook,
): Promise<ReferenceBook> {
  const path = referenceRunsPath(folder);
  const { runs, withdrawn } = await changeBook(folder, path, referenceFile, 'reference run', async () => {
    return { about, ...change(await readReferenceRuns(folder)) };
  });
  return { runs, withdrawn };
}
