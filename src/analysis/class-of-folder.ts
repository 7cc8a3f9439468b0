import { type ClassRecording, type ClassSummary, classSummary } from '../class/index.ts';
import { conditionsOf, type Experiment } from '../experiment/index.ts';
import { rigCandidates } from '../live/index.ts';
import type { EarlierRecordings } from './earlier-recordings.ts';
import { expectedOf } from './expected.ts';
import type { FolderAnalysis } from './folder-analysis.ts';

/** A class as it stands, and what could not be taken in. */
export interface FolderClass extends ClassSummary {
  /** Recordings that wait to be analyzed. */
  readonly waiting: number;
  /** Folders of earlier terms of which nothing could be used, and why. */
  readonly troubles: EarlierRecordings['troubles'];
}

/** A section that neither the experiment file nor the path of a recording names. */
export class UnknownSectionError extends Error {
  override readonly name = 'UnknownSectionError';
  readonly mend: string;

  /** @param known the sections that there are */
  constructor(section: string, known: readonly string[]) {
    super(`There is no section ${JSON.stringify(section.slice(0, 100))} in this experiment.`);
    this.mend =
      known.length === 0
        ? 'Ask for the whole class: it has no sections.'
        : `Take one of ${known
            .slice(0, 30)
            .map((one) => one.slice(0, 100))
            .join(', ')}.`;
  }
}

/**
 * Rolls up what a folder has.
 *
 * @param section alone; null for the whole class
 * @throws UnknownSectionError
 */
export function classOfFolder(
  analysis: FolderAnalysis,
  earlier: EarlierRecordings,
  section: string | null = null,
): FolderClass {
  const { experiment } = analysis;
  const all = analysis.classRecordings();
  const recordings = section === null ? all : all.filter((one) => one.section === section);
  if (section !== null && recordings.length === 0) {
    const known = new Set([...(experiment?.sections ?? []), ...all.flatMap((one) => one.section ?? [])]);
    if (!known.has(section)) throw new UnknownSectionError(section, [...known]);
  }
  const waiting = analysis.list().recordings.filter(({ state, place }) => {
    return state === 'waiting' && (section === null || place.section === section);
  }).length;
  const others: ClassRecording[] = section === null ? [] : all.filter((one) => one.section !== section);
  return {
    ...classSummary(recordings, {
      earlier: earlier.recordings,
      beside: others,
      candidates: experiment === null ? [] : rigCandidates(experiment, predictionsOf(experiment)),
    }),
    waiting,
    troubles: earlier.troubles,
  };
}

function predictionsOf(experiment: Experiment) {
  const { measured, leftOut } = conditionsOf(experiment);
  return [...measured, ...leftOut].map((one) => expectedOf(experiment, one));
}
