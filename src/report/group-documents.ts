import {
  type FolderAnalysis,
  type LongWork,
  type RecordingDetail,
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

/** Everything about the recordings of a group that can be read; nothing where its report has no pages for them. */
export async function groupDetails(
  analysis: FolderAnalysis,
  group: string,
  pages: boolean,
  { details, signal }: LongWork,
): Promise<readonly RecordingDetail[]> {
  if (!pages) return [];
  // What cannot be read has its reason in the table of the summary.
  const readable = recordingsOf(analysis, group).filter(({ state }) => state === 'analyzed');
  const found = await readableDetails(
    analysis,
    readable.map(({ path }) => path),
    { ...(details && { details }), ...(signal && { signal }) },
  );
  return [...found.values()];
}

function recordingsOf(analysis: FolderAnalysis, group: string) {
  return analysis.list().recordings.filter(({ place }) => place.group === group);
}

/**
 * The report of one group, from a folder whose recordings are analyzed.
 *
 * @param details of the trials that follow in full; none for the summary alone
 * @throws UnknownGroupError
 */
export function groupReportOf(
  analysis: FolderAnalysis,
  group: string,
  details: readonly RecordingDetail[],
  { experiment, origin, settings }: DocumentMaking,
): Report {
  return groupReport({
    group,
    recordings: recordingsOf(analysis, group),
    comparison: analysis.comparison([group]),
    accuracy: experiment.prediction.accuracy,
    details,
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
      const detailsOf = (group: string) => groupDetails(analysis, group, wanted.pages, work);
      let next: ReturnType<typeof detailsOf> | null = null;
      for (const [i, group] of groups.entries()) {
        const details = await (next ?? detailsOf(group));
        const after = groups[i + 1];
        // While this report is set, threads go on with the next one.
        next = work.details === undefined || after === undefined ? null : detailsOf(after);
        next?.catch(() => undefined);
        const report = groupReportOf(analysis, group, details, making);
        yield await setDocument(report, groupFileName(group), setting);
      }
    }
    const names = groups.map((group) => `${groupFileName(group)}${documentEnding(wanted.format)}`);
    return take(names, reports());
  });
}
