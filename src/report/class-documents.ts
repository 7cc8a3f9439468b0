import { classOfFolder, earlierRecordings, type LongWork, withSettledAnalysis } from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { countingChecks, standingsOf } from '../rig/index.ts';
import { readRigChecks } from '../store/index.ts';
import { classReport } from './class.ts';
import type { Report } from './document.ts';
import type { DocumentMaking } from './set-document.ts';

/** Which class, and what it is held against; see the order of a document. */
interface ClassOrder {
  readonly section: string | null;
  readonly earlier: readonly string[];
  readonly names: Readonly<Record<string, string>> | null;
}

/**
 * The document of a class; what waits is analyzed first.
 *
 * @throws UnknownSectionError; RigCheckError where the checks of the rigs cannot be read
 */
export async function classDraft(
  folder: string,
  { section, earlier, names }: ClassOrder,
  { experiment, origin, settings }: DocumentMaking,
  work: LongWork,
): Promise<{ readonly name: string; readonly report: Report }> {
  return withSettledAnalysis(folder, work, async (analysis) => {
    const terms = [...experiment['earlier-terms'], ...earlier];
    const rolled = classOfFolder(analysis, await earlierRecordings(folder, terms), section);
    const recordings = analysis
      .list()
      .recordings.filter(({ place }) => section === null || place.section === section);
    const rig = await standingsAt(folder, experiment, lastOf(recordings.map(({ startedAt }) => startedAt)));
    const report = classReport({
      section,
      rolled,
      recordings,
      rig,
      names: names === null ? null : new Map(Object.entries(names)),
      origin,
      quoting: settings.quoting,
    });
    return { name: section === null ? 'class' : `section-${inFileName(section)}`, report };
  });
}

/** A code in letters that every system takes. */
function inFileName(code: string): string {
  return code.replace(/[^A-Za-z0-9._-]+/g, '-');
}

/** When the last recording began, as the files say, ms since 1970 (UTC); null where none says it. */
function lastOf(started: readonly (string | null)[]): number | null {
  const times = started
    .map((one) => (one?.includes('T') ? Date.parse(one) : Number.NaN))
    .filter(Number.isFinite);
  return times.length === 0 ? null : Math.max(...times);
}

/** The rigs as they stood then: a document says the same whenever it is made. */
async function standingsAt(folder: string, experiment: Experiment, at: number | null) {
  return at === null ? [] : standingsOf(experiment, countingChecks(await readRigChecks(folder)), at);
}
