import { readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type Checked,
  type Experiment,
  experimentSchema,
  type FileFault,
  parseChecked,
} from '../experiment/index.ts';
import { leadsOut, noLinkOut } from './leads-out.ts';

/** Name of the file that describes an experiment, in its folder. */
export const experimentFileName = 'experiment.yaml';

/** Larger files are not even read, bytes. */
const largest = 1 << 20;

/** An experiment file that does not fit; the message lists every fault with its line. */
export class ExperimentFileError extends Error {
  readonly path: string;
  readonly faults: readonly FileFault[];

  constructor(path: string, faults: readonly FileFault[]) {
    const lines = faults.map(({ line, place, message }) => {
      return `${path}, line ${line}: ${place === '' ? '' : `${place}: `}${message}`;
    });
    super(lines.join('\n'));
    this.name = 'ExperimentFileError';
    this.path = path;
    this.faults = faults;
  }
}

/** An experiment with the file that it was read from. */
export interface ReadExperiment {
  readonly path: string;
  readonly experiment: Experiment;
  /** Line of the place that has these keys, or of the nearest one above it. */
  readonly lineOf: (place: readonly string[]) => number;
}

/**
 * Reads `experiment.yaml` in an experiment folder.
 *
 * @param folder path of the folder
 * @throws ExperimentFileError when the file is missing or does not fit; the message names each line and its mend
 */
export async function readExperiment(folder: string): Promise<Experiment> {
  return (await readExperimentFile(folder)).experiment;
}

/** The same, with the lines of the file. */
export async function readExperimentFile(folder: string): Promise<ReadExperiment> {
  const path = join(folder, experimentFileName);
  const checked = checkedFrom(await readExperimentText(folder));
  if (!checked.ok) throw new ExperimentFileError(path, checked.faults);
  return { path, experiment: checked.value, lineOf: (place) => checked.lineOf(place) };
}

/** The text that was read last, with what it says: one piece of work asks for it several times. */
let last: { readonly text: string; readonly checked: Checked<Experiment> } | null = null;

function checkedFrom(text: string): Checked<Experiment> {
  if (last?.text !== text) last = { text, checked: parseChecked(text, experimentSchema) };
  return last.checked;
}

/**
 * The text of `experiment.yaml` in an experiment folder, whatever it says.
 *
 * @throws ExperimentFileError when the file is missing or no text
 */
export async function readExperimentText(folder: string): Promise<string> {
  const path = join(folder, experimentFileName);
  const fail = (message: string) => new ExperimentFileError(path, [{ line: 1, place: '', message }]);
  const found = await stat(path).catch((error: unknown) => {
    throw fail(`cannot be read (${reason(error)}); name the folder that holds ${experimentFileName}`);
  });
  if (!found.isFile()) throw fail('is not a file; an experiment file is a text file');
  if (await leadsOut(folder, path)) throw fail(`is a link that leads out of the folder; ${noLinkOut}`);
  if (found.size > largest) {
    throw fail('is larger than 1 MiB; an experiment file is written by hand and much smaller');
  }
  const bytes = await readFile(path).catch((error: unknown) => {
    throw fail(`cannot be read (${reason(error)}); check its permissions`);
  });
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw fail('is not UTF-8 text; save it as UTF-8 in your editor');
  }
}

const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'a part of the path is no folder',
  EACCES: 'it may not be read',
  ENAMETOOLONG: 'the path is too long',
  ELOOP: 'its links lead in a circle',
};

/** Why something on the disk could not be done, in words. */
export function reason(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return reasons[code] ?? (error instanceof Error ? error.message : String(error));
}
