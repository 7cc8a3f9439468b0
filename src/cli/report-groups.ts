import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { FolderAnalysis, RecordingDetail } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import {
  documentHtml,
  documentSettings,
  groupReport,
  type Origin,
  type Report,
  typesetPdf,
} from '../report/index.ts';
import { writeNewFile } from './new-file.ts';
import type { ReportCommandOptions } from './report-command.ts';
import { withSettledAnalysis } from './settled-analysis.ts';
import { type ExitStatus, inkFor, printable, type Surroundings, startProgress } from './terminal.ts';
import { OptionError } from './wishes.ts';

/** What a document is made from, and where it is said. */
export interface Making {
  readonly origin: Origin;
  readonly experiment: Experiment;
  readonly surroundings: Surroundings;
}

/**
 * The reports of all groups, a file each.
 *
 * @throws OptionError where no recording belongs to a group, or a file is there already: then nothing is written
 */
export async function reportGroups(
  folder: string,
  options: ReportCommandOptions,
  { origin, experiment, surroundings }: Making,
): Promise<ExitStatus> {
  const to = options.to ?? '.';
  const html = options.html === true;
  const pages = options.pages === true;
  return withSettledAnalysis(folder, surroundings, async (analysis): Promise<ExitStatus> => {
    const groups = groupsOf(analysis);
    if (groups.length === 0) {
      throw new OptionError('no recording belongs to a group: see recordings in experiment.yaml');
    }
    const files = groups.map((group) => {
      return { group, path: join(to, `${groupFileName(group)}.${html ? 'html' : 'pdf'}`) };
    });
    const there = options.force === true ? undefined : files.find(({ path }) => existsSync(path));
    if (there !== undefined) {
      throw new OptionError(
        `${there.path} is there already: give another folder with --to, or --force to write over it`,
      );
    }
    await mkdir(to, { recursive: true });
    const progress = await startProgress(surroundings, groups.length, 'writing reports');
    try {
      for (const [i, { group, path }] of files.entries()) {
        const report = await groupReportOf(analysis, group, { origin, experiment, pages });
        const content = html
          ? await documentHtml(report)
          : await typesetPdf(report, documentSettings(experiment).paper);
        await writeNewFile(path, content, options.force === true);
        progress.update(i + 1);
      }
    } finally {
      progress.stop();
    }
    const { stdout, environment } = surroundings;
    const count = files.length === 1 ? '1 group' : `${files.length} groups`;
    stdout.write(`${count}: ${inkFor(stdout, environment).strong(printable(to))}\n`);
    return 0;
  });
}

/** Groups that have recordings, in the order of the list. */
function groupsOf(analysis: FolderAnalysis): string[] {
  return [...new Set(analysis.list().recordings.flatMap(({ place }) => place.group ?? []))];
}

/**
 * The report of one group, from a folder whose recordings are analyzed.
 *
 * @param pages whether each trial follows in full
 * @throws UnknownGroupError
 */
export async function groupReportOf(
  analysis: FolderAnalysis,
  group: string,
  {
    origin,
    experiment,
    pages,
  }: { readonly origin: Origin; readonly experiment: Experiment; readonly pages: boolean },
): Promise<Report> {
  const comparison = analysis.comparison([group]);
  const recordings = analysis.list().recordings.filter(({ place }) => place.group === group);
  const details: RecordingDetail[] = [];
  for (const { path, state } of pages ? recordings : []) {
    // What cannot be read has its reason in the table of the summary.
    if (state === 'analyzed') details.push(await analysis.detail(path));
  }
  return groupReport({
    group,
    recordings,
    comparison,
    accuracy: experiment.prediction.accuracy,
    details,
    origin,
    quoting: documentSettings(experiment).quoting,
  });
}

/** Name of a group's report without its ending. */
export function groupFileName(group: string): string {
  return `group-${plainName(group)}`;
}

/** In letters that every system takes. */
export function plainName(text: string): string {
  return text.replace(/[^A-Za-z0-9._-]+/g, '-');
}
