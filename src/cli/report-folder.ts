import { type DocumentOrder, makeDocument } from '../report/index.ts';
import { inFolder } from './in-folder.ts';
import { longWork } from './long-work.ts';
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
  const order = orderOf(folder, options);
  if (order === 'groups') return reportGroups(folder, options, surroundings);
  const made = await longWork(surroundings, (work) => makeDocument(folder, order, work));
  const { stdout, stderr, environment } = surroundings;
  for (const remark of made.remarks) stderr.write(`emberline: ${printable(remark)}\n`);
  const path = options.to ?? made.name;
  await writeNewFile(path, made.bytes, options.force === true);
  stdout.write(`${made.title}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
  return 0;
}

function orderOf(folder: string, options: ReportCommandOptions): DocumentOrder | 'groups' {
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
      'ask for one document: --trial, --worked, --group, --groups, --bench-sheet or --briefing; emberline report --help explains them',
    );
  }
  return only;
}
