import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Experiment, experimentSchema, type FileFault, parseChecked } from '../experiment/index.ts';

const fileName = 'experiment.yaml';

/** An experiment file that does not fit; the message lists every fault with its line. */
export class ExperimentFileError extends Error {
  readonly faults: readonly FileFault[];

  constructor(path: string, faults: readonly FileFault[]) {
    const lines = faults.map(({ line, place, message }) => {
      return `${path}, line ${line}: ${place === '' ? '' : `${place}: `}${message}`;
    });
    super(lines.join('\n'));
    this.name = 'ExperimentFileError';
    this.faults = faults;
  }
}

/**
 * Reads `experiment.yaml` in an experiment folder.
 *
 * @param folder path of the folder
 * @throws ExperimentFileError when the file is missing or does not fit; the message names each line and its mend
 */
export async function readExperiment(folder: string): Promise<Experiment> {
  const path = join(folder, fileName);
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch {
    throw new ExperimentFileError(path, [
      {
        line: 1,
        place: '',
        message: `cannot be read; --experiment wants the folder that holds ${fileName}`,
      },
    ]);
  }
  const checked = parseChecked(text, experimentSchema);
  if (!checked.ok) throw new ExperimentFileError(path, checked.faults);
  return checked.value;
}
