import {
  type FolderAnalysis,
  type LongWork,
  readableDetails,
  withSettledAnalysis,
} from '../analysis/index.ts';
import { folderOrigin, inFileName } from '../export/index.ts';
import { readExperiment } from '../store/index.ts';
import type { Report } from './document.ts';
import { groupReport } from './group.ts';
import {
  type DocumentMaking,
  documentEnding,
  type MadeDocument,
  setDocument,
  settingsFor,
  type WantedSetting,
} from './set-document.ts';

/**
 * The report of one group, from a folder whose recordings are analyzed.
 *
 * @param pages whether each trial follows in full
 * @throws UnknownGroupError
 */
export async function groupReportOf(
  analysis: FolderAnalysis,
  group: string,
  pages: boolean,
  { experiment, origin, settings }: DocumentMaking,
  { signal }: LongWork,
): Promise<Report> {
  const comparison = analysis.comparison([group]);
  const recordings = analysis.list().recordings.filter(({ place }) => place.group === group);
  // What cannot be read has its reason in the table of the summary.
  const readable = recordings.filter(({ state }) => state === 'analyzed').map(({ path }) => path);
  const details = await readableDetails(
    analysis,
    pages ? readable : [],
    signal === undefined ? {} : { signal },
  );
  return groupReport({
    group,
    recordings,
    comparison,
    accuracy: experiment.prediction.accuracy,
    details: [...details.values()],
    origin,
    quoting: settings.quoting,
  });
}

/** Name of a group's report without its ending. */
export function groupFileName(group: string): string {
  return `group-${inFileName(group)}`;
}

/**
 * The reports of all groups that have recordings, in the order of the list.
 *
 * @param take is given the names of the files, none where there is no group, and then the files as they are made
 * @throws ExperimentFileError; what `take` throws
 */
export async function makeGroupReports<T>(
  folder: string,
  wanted: WantedSetting & { readonly pages: boolean },
  work: LongWork,
  take: (names: readonly string[], reports: AsyncIterable<MadeDocument>) => Promise<T>,
): Promise<T> {
  const experiment = await readExperiment(folder);
  const making: DocumentMaking = {
    experiment,
    origin: await folderOrigin(folder, experiment),
    settings: settingsFor(experiment, wanted),
  };
  const setting = { format: wanted.format, paper: making.settings.paper };
  return withSettledAnalysis(folder, work, (analysis) => {
    const groups = [...new Set(analysis.list().recordings.flatMap(({ place }) => place.group ?? []))];
    async function* reports() {
      for (const group of groups) {
        const report = await groupReportOf(analysis, group, wanted.pages, making, work);
        yield await setDocument(report, groupFileName(group), setting);
      }
    }
    const names = groups.map((group) => `${groupFileName(group)}${documentEnding(wanted.format)}`);
    return take(names, reports());
  });
}
