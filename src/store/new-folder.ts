import { constants } from 'node:fs';
import { access, mkdir, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { experimentJsonSchema, experimentJsonSchemaName, experimentTemplate } from '../experiment/index.ts';
import { experimentFileName, reason } from './experiment-file.ts';

/** A folder that could not be made; the message says why and what to do. */
export class NewFolderError extends Error {
  override readonly name = 'NewFolderError';
}

/** What a new experiment folder holds. */
export interface NewFolder {
  /** Path of the experiment file. */
  readonly experiment: string;
  /** Path of the JSON Schema beside it, by which editors complete and check it. */
  readonly schema: string;
  /** Whether a schema stood there already and was left as it was. */
  readonly schemaKept: boolean;
}

/**
 * Makes an experiment folder: a commented `experiment.yaml`, and the JSON Schema beside it so that editors help. Nothing
 * that is there is written over.
 *
 * @param folder path; made if it does not exist
 * @throws NewFolderError where there is an experiment already, or the disk refuses
 */
export async function newExperimentFolder(folder: string): Promise<NewFolder> {
  const experiment = join(folder, experimentFileName);
  const schema = join(folder, experimentJsonSchemaName);
  await mkdir(folder, { recursive: true }).catch((error: unknown) => {
    throw new NewFolderError(`${folder}: the folder cannot be made (${reason(error)}); take another path`);
  });
  const written = await writeNew(experiment, experimentTemplate);
  if (!written) {
    throw new NewFolderError(
      `${experiment}: is there already and was left as it is; take another folder, or move it away first`,
    );
  }
  const schemaKept = !(await writeNew(schema, experimentJsonSchema()));
  return { experiment, schema, schemaKept };
}

/** Writes a file that must not exist yet, whole or not at all; false where it exists. */
async function writeNew(path: string, text: string): Promise<boolean> {
  const exists = await access(path, constants.F_OK).then(
    () => true,
    () => false,
  );
  if (exists) return false;
  // `wx` fails on anything that has this name, a dangling link among them.
  const file = await open(path, 'wx').catch((error: unknown) => {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return null;
    throw new NewFolderError(`${path}: cannot be written (${reason(error)}); check the folder`);
  });
  if (file === null) return false;
  try {
    await file.writeFile(text);
    await file.sync();
  } catch (error) {
    await rm(path, { force: true });
    throw new NewFolderError(`${path}: cannot be written (${reason(error)}); check the disk`);
  } finally {
    await file.close();
  }
  return true;
}
