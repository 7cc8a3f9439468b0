import { mkdir } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { CoolingError, makeExport, makeResults, resultsFormats } from '../export/index.ts';
import type { ExportCommandOptions } from './export-command.ts';
import { inFolder } from './in-folder.ts';
import { longWork } from './long-work.ts';
import { namesFrom } from './names-file.ts';
import { writeNewFile } from './new-file.ts';
import { type ExitStatus, inkFor, printable, type Surroundings } from './terminal.ts';
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
  const { cooling } = options;
  return cooling === undefined
    ? exportResults(folder, options, surroundings)
    : exportCooling(folder, cooling, options, surroundings);
}

async function exportCooling(
  folder: string,
  cooling: string,
  { to, force }: ExportCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const format = (['xlsx', 'csv'] as const).find((one) => `.${one}` === extname(to));
  if (format === undefined) {
    throw new OptionError('a cooling is written as .xlsx or .csv: name such a file with --to');
  }
  const order = { kind: 'cooling', path: inFolder(folder, cooling), format } as const;
  const { bytes, remarks } = await makeExport(folder, order).catch((error: unknown) => {
    if (error instanceof CoolingError) throw new OptionError(`${error.message} ${error.mend}`);
    throw error;
  });
  await writeNewFile(to, bytes, force === true);
  const status = said(surroundings, 'cooling', to);
  for (const remark of remarks) surroundings.stdout.write(`${remark}\n`);
  return status;
}

async function exportResults(
  folder: string,
  { to, names, force }: ExportCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const format = resultsFormats.find((one) => `.${one}` === extname(to));
  if (format === undefined && extname(to) !== '') {
    throw new OptionError(
      `${extname(to)} is no format of results: use ${resultsFormats.map((one) => `.${one}`).join(', ')}, or name a folder for all of them`,
    );
  }
  const known = names === undefined ? null : await namesFrom(names);
  const { files, trials } = await longWork(surroundings, (work) =>
    makeResults(folder, format ?? 'package', known, work),
  );
  if (format === undefined) await mkdir(to, { recursive: true });
  for (const { name, bytes } of files) {
    await writeNewFile(format === undefined ? join(to, name) : to, bytes, force === true);
  }
  return said(surroundings, `${trials} trials`, to);
}

function said({ stdout, environment }: Surroundings, what: string, path: string): ExitStatus {
  stdout.write(`${what}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
  return 0;
}
