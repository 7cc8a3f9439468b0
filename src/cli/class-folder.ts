import { resolve } from 'node:path';
import {
  classOfFolder,
  earlierRecordings,
  type FolderAnalysis,
  type FolderClass,
  UnknownSectionError,
  withSettledAnalysis,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { readExperimentFile } from '../store/index.ts';
import type { ClassCommandOptions } from './class-command.ts';
import { presentClass } from './class-present.ts';
import { longWork } from './long-work.ts';
import { namesFrom } from './names-file.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `class`.
 *
 * @returns 0; 1 where somebody is asked to look again or a recording does not count
 * @throws OptionError where section, earlier term or names cannot be used; ExperimentFileError
 */
export async function rollUpClass(
  folder: string,
  options: ClassCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { path, experiment } = await readExperimentFile(folder);
  const names = options.names === undefined ? null : await namesFrom(options.names);
  const rolled = await longWork(surroundings, (work) =>
    withSettledAnalysis(folder, work, (analysis) => rolledUp(analysis, experiment, options)),
  );
  const { stdout, environment } = surroundings;
  stdout.write(
    options.json
      ? `${JSON.stringify({ ...rolled, names: names === null ? null : Object.fromEntries(names) })}\n`
      : `${presentClass({ path, rolled, names }, inkFor(stdout, environment)).join('\n')}\n`,
  );
  return rolled.lookAgain.length > 0 || rolled.left.length > 0 || rolled.troubles.length > 0 ? 1 : 0;
}

/**
 * A class by what was asked for.
 *
 * @throws OptionError for a section that there is not
 */
async function rolledUp(
  analysis: FolderAnalysis,
  experiment: Experiment,
  { section, earlier = [] }: Pick<ClassCommandOptions, 'section' | 'earlier'>,
): Promise<FolderClass> {
  // As typed, a folder is meant from here; as written in the experiment file, from there.
  const terms = [...experiment['earlier-terms'], ...earlier.map((one) => resolve(one))];
  try {
    return classOfFolder(analysis, await earlierRecordings(analysis.folder, terms), section ?? null);
  } catch (error) {
    if (error instanceof UnknownSectionError) throw new OptionError(`${error.message} ${error.mend}`);
    throw error;
  }
}
