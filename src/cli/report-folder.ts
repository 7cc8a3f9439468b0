import { resolve } from 'node:path';
import { UnknownSectionError } from '../analysis/index.ts';
import { type DocumentOrder, makeDocument } from '../report/index.ts';
import { inFolder } from './in-folder.ts';
import { longWork } from './long-work.ts';
import { namesFrom } from './names-file.ts';
import { writeNewFile } from './new-file.ts';
import type { ReportCommandOptions } from './report-command.ts';
import { reportGroups } from './report-groups.ts';
import { type ExitStatus, inkFor, printable, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `report`.
 *
 * @throws OptionError where no document, or more than one, is asked for; ExperimentFileError; errors of recordings
 */
export async function reportFolder(
  folder: string,
  options: ReportCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const order = await orderOf(folder, options);
  if (order === 'groups') return reportGroups(folder, options, surroundings);
  const made = await longWork(surroundings, (work) => makeDocument(folder, order, work)).catch(
    (error: unknown) => {
      if (error instanceof UnknownSectionError) throw new OptionError(`${error.message} ${error.mend}`);
      throw error;
    },
  );
  const { stdout, stderr, environment } = surroundings;
  for (const remark of made.remarks) stderr.write(`emberline: ${printable(remark)}\n`);
  const path = options.to ?? made.name;
  await writeNewFile(path, made.bytes, options.force === true);
  stdout.write(`${made.title}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
  return 0;
}

async function orderOf(folder: string, options: ReportCommandOptions): Promise<DocumentOrder | 'groups'> {
  refuseStray(options);
  const { trial, worked, group, example } = options;
  const setting = {
    figures: options.figures === undefined ? null : options.figures === '1' ? (1 as const) : (2 as const),
    paper: options.paper ?? null,
    format: options.html === true ? ('html' as const) : ('pdf' as const),
  };
  const found: (DocumentOrder | 'groups')[] = options.groups === true ? ['groups'] : [];
  if (trial !== undefined) found.push({ kind: 'trial', path: inFolder(folder, trial), ...setting });
  if (worked !== undefined) found.push({ kind: 'worked', path: inFolder(folder, worked), ...setting });
  if (group !== undefined) found.push({ kind: 'group', group, pages: options.pages === true, ...setting });
  if (options.class === true) {
    found.push({
      kind: 'class',
      section: options.section ?? null,
      // As typed, a folder is meant from here.
      earlier: (options.earlier ?? []).map((one) => resolve(one)),
      names: options.names === undefined ? null : Object.fromEntries(await namesFrom(options.names)),
      ...setting,
    });
  }
  if (options.benchSheet === true) found.push({ kind: 'bench-sheet', ...setting });
  if (options.briefing === true) {
    found.push({
      kind: 'briefing',
      example: example === undefined ? null : inFolder(folder, example),
      ...setting,
      format: setting.format === 'html' ? 'slides' : 'pdf',
    });
  }
  const [only] = found;
  if (only === undefined || found.length > 1) {
    throw new OptionError(
      'ask for one document: --trial, --worked, --group, --groups, --class, --bench-sheet or --briefing; emberline report --help explains them',
    );
  }
  return only;
}

/** What belongs to the document of a class would be lost in silence with another one. */
function refuseStray({ class: ofClass, section, names, earlier }: ReportCommandOptions): void {
  const stray = [
    ['--section', section],
    ['--names', names],
    ['--earlier', earlier?.[0]],
  ].find(([, given]) => given !== undefined)?.[0];
  if (ofClass !== true && stray !== undefined) {
    throw new OptionError(`${stray} belongs to the document of a class: give --class as well`);
  }
}
