import {
  classOfFolder,
  type EarlierRecordings,
  earlierRecordings,
  type FolderAnalysis,
  type FolderClass,
  UnknownSectionError,
} from '../analysis/index.ts';
import { RequestProblem } from './problem.ts';

/** Sections that are remembered; a page asks for few. */
const mostKept = 20;

/**
 * Rolls up a class once for everybody who asks, until something in the folder changes.
 *
 * @returns the class by its section; null for all of it
 */
export function classOnce(analysis: FolderAnalysis): (section: string | null) => Promise<FolderClass> {
  const kept = new Map<string | null, Promise<FolderClass>>();
  let earlier: Promise<EarlierRecordings> | null = null;
  analysis.onChange(({ kind }) => {
    kept.clear();
    // Which terms there are stands in the experiment file.
    if (kind === 'list') earlier = null;
  });
  const roll = async (section: string | null) => {
    earlier ??= earlierRecordings(analysis.folder, analysis.experiment?.['earlier-terms'] ?? []);
    return classOfFolder(analysis, await earlier, section);
  };
  return (section) => {
    const before = kept.get(section);
    if (before !== undefined) return before;
    const rolled = roll(section).catch((error: unknown) => {
      kept.delete(section);
      if (!(error instanceof UnknownSectionError)) throw error;
      throw new RequestProblem('bad-request', error.message, error.mend);
    });
    if (kept.size >= mostKept) kept.clear();
    kept.set(section, rolled);
    return rolled;
  };
}
