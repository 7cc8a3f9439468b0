import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { writeAtomically } from './atomic-write.ts';
import { experimentFileName, readExperimentText, reason } from './experiment-file.ts';

/** Something that the disk refused; the message says what and what to do. */
export class StoreError extends Error {
  override readonly name = 'StoreError';
}

/** The experiment file is not the one any more that a change was made from. */
export class ExperimentChangedError extends Error {
  override readonly name = 'ExperimentChangedError';
}

/** SHA-256 of a text in UTF-8, in hexadecimal. */
export function textHash(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}

/** One save after the other: between looking at the file and writing it, no other may come. */
let saving: Promise<unknown> = Promise.resolve();

/**
 * Writes a new `experiment.yaml` over the old one, atomically.
 *
 * @param folder of the experiment
 * @param basedOn `textHash` of the text that the new one was made from
 * @throws ExperimentChangedError where the file says something else by now
 * @throws ExperimentFileError where it is not there any more; StoreError where the disk refuses
 */
export function saveExperimentText(folder: string, basedOn: string, text: string): Promise<void> {
  const save = async () => {
    if (textHash(await readExperimentText(folder)) !== basedOn) {
      throw new ExperimentChangedError('The experiment file was changed after it was read.');
    }
    const path = join(folder, experimentFileName);
    await writeAtomically(path, text).catch((error: unknown) => {
      throw new StoreError(`${experimentFileName} cannot be written (${reason(error)}).`);
    });
  };
  const done = saving.then(save, save);
  saving = done.catch(() => undefined);
  return done;
}
