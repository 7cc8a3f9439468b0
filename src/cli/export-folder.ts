import { mkdir, readFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { experimentDecaySettings, type FolderAnalysis, openAnalysis } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import {
  CoolingError,
  type ExportedTrial,
  type ExportOrigin,
  NamesError,
  type ResultsInput,
  readNames,
  resultsFormats,
  writeCooling,
  writeResults,
  writeResultsPackage,
} from '../export/index.ts';
import { readExperiment, readExperimentText, textHash } from '../store/index.ts';
import { version } from '../version.ts';
import type { ExportCommandOptions } from './export-command.ts';
import { inFolder } from './in-folder.ts';
import { writeNewFile } from './new-file.ts';
import { type ExitStatus, inkFor, printable, type Surroundings, startProgress } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `export`.
 *
 * @throws OptionError where the place or the format cannot be used; ExperimentFileError; errors of recordings
 */
export async function exportFolder(
  folder: string,
  options: ExportCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const experiment = await readExperiment(folder);
  const origin: ExportOrigin = {
    course: experiment.course ?? 'Experiment',
    version,
    experimentHash: textHash(await readExperimentText(folder)),
  };
  const names = options.names === undefined ? null : await namesFrom(options.names);
  const analysis = await openAnalysis(folder, { hands: 0 });
  const force = options.force === true;
  try {
    if (options.cooling !== undefined) {
      if (extname(options.to) !== '.xlsx')
        throw new OptionError('a cooling is written as .xlsx: name such a file with --to');
      const bytes = await coolingOf(analysis, experiment, inFolder(folder, options.cooling), origin);
      await writeNewFile(options.to, bytes, force);
      return said(surroundings, 'cooling', options.to);
    }
    const format = resultsFormats.find((one) => `.${one}` === extname(options.to));
    if (format === undefined && extname(options.to) !== '') {
      throw new OptionError(
        `${extname(options.to)} is no format of results: use ${resultsFormats.map((one) => `.${one}`).join(', ')}, or name a folder for all of them`,
      );
    }
    const input: ResultsInput = {
      origin,
      experiment,
      trials: await trialsOf(analysis, surroundings),
      comparison: analysis.comparison(),
      names,
    };
    if (format !== undefined) {
      await writeNewFile(options.to, await writeResults(input, format), force);
    } else {
      await mkdir(options.to, { recursive: true });
      for (const { name, bytes } of await writeResultsPackage(input)) {
        await writeNewFile(join(options.to, name), bytes, force);
      }
    }
    return said(surroundings, `${input.trials.length} trials`, options.to);
  } finally {
    await analysis.close();
  }
}

function said({ stdout, environment }: Surroundings, what: string, path: string): ExitStatus {
  stdout.write(`${what}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
  return 0;
}

async function namesFrom(path: string): Promise<Map<string, string>> {
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

async function coolingOf(
  analysis: FolderAnalysis,
  experiment: Experiment,
  path: string,
  origin: ExportOrigin,
): Promise<Uint8Array> {
  const analyzed = await analysis.analysis(path);
  const body = analysis.list().recordings.find((one) => one.path === path)?.place.body ?? null;
  const settings = experimentDecaySettings(experiment, body);
  try {
    return await writeCooling({ path, analyzed, settings, origin });
  } catch (error) {
    if (error instanceof CoolingError) throw new OptionError(`${error.message} ${error.mend}`);
    throw error;
  }
}

/** Every recording in full, as far as it can be read. */
async function trialsOf(analysis: FolderAnalysis, surroundings: Surroundings): Promise<ExportedTrial[]> {
  const paths = analysis.list().recordings.map(({ path }) => path);
  const progress = await startProgress(surroundings, Math.max(paths.length, 1), 'analyzing');
  const details = new Map<string, ExportedTrial['detail']>();
  try {
    for (const [i, path] of paths.entries()) {
      details.set(path, await analysis.detail(path).catch(() => null));
      progress.update(i + 1);
    }
  } finally {
    progress.stop();
  }
  return analysis.list().recordings.map((summary) => {
    return { summary, detail: details.get(summary.path) ?? null };
  });
}
