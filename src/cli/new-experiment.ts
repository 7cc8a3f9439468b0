import { newExperimentFolder } from '../store/index.ts';
import { type ExitStatus, printable, type Surroundings } from './terminal.ts';

/**
 * The command `new`.
 *
 * @throws NewFolderError where there is an experiment already, or the disk refuses
 */
export async function newExperiment(folder: string, { stdout }: Surroundings): Promise<ExitStatus> {
  const made = await newExperimentFolder(folder);
  const lines = [
    `wrote ${printable(made.experiment)}`,
    made.schemaKept
      ? `kept  ${printable(made.schema)}, which was there`
      : `wrote ${printable(made.schema)}, by which editors complete it`,
    '',
    'Change it to your rig, then:',
    `  emberline check ${printable(quoted(folder))}`,
  ];
  stdout.write(`${lines.join('\n')}\n`);
  return 0;
}

/** As it would be typed. */
function quoted(path: string): string {
  return /^[\w./\\:-]+$/.test(path) ? path : `"${path}"`;
}
