import {
  type CorrelationForm,
  type NoCorrelation,
  nusseltTrials,
  type RigCorrelation,
  type RigTerm,
  rigCorrelation,
} from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import type { ReferenceRun } from '../rig/index.ts';
import { type MissingTerm, openEarlierTerms, termOf } from '../store/index.ts';
import { keptRuns } from './kept-trials.ts';
import { checksThatCount, referenceRunsThatCount } from './rig-of-recording.ts';

/** A term with the folder that it is kept in. */
interface FolderOfTerm {
  readonly folder: string;
  readonly term: string;
  readonly experiment: Experiment;
}

/** The terms of a course, the earlier ones first and the present one last, and folders that cannot be used. */
export interface CourseTerms {
  readonly terms: readonly FolderOfTerm[];
  readonly missing: readonly MissingTerm[];
}

/** The present term and the earlier ones that its experiment file names. */
export async function courseTerms(folder: string, experiment: Experiment): Promise<CourseTerms> {
  const { terms, missing } = await openEarlierTerms(folder, experiment['earlier-terms']);
  return { terms: [...terms, { folder, term: termOf(folder, experiment), experiment }], missing };
}

/** What is kept about the rigs in each of the terms. A reference run belongs to the term that it names. */
export async function rigTerms({ terms }: CourseTerms): Promise<RigTerm[]> {
  const found: RigTerm[] = [];
  for (const { folder, term } of terms) {
    const runs = await referenceRunsThatCount(folder);
    found.push({ term, checks: await checksThatCount(folder), runs: [] });
    for (const name of new Set(runs.map((run) => run.term))) {
      found.push({ term: name, checks: [], runs: runs.filter((run) => run.term === name) });
    }
  }
  return found;
}

/**
 * The rig's own correlation, from everything that counts in this and earlier terms: recordings as far as their results
 * are kept, and reference runs. Each term is worked back by its own experiment file.
 */
export async function correlationOfTerms(
  { terms }: CourseTerms,
  form: CorrelationForm,
): Promise<RigCorrelation | NoCorrelation> {
  const trials = [];
  for (const { folder, experiment } of terms) {
    const references = (await referenceRunsThatCount(folder)).map(asRun);
    trials.push(...nusseltTrials(experiment, [...(await keptRuns(folder, experiment)), ...references]));
  }
  return rigCorrelation(trials, form);
}

function asRun({ bench, body, flow, timeConstant, standardUncertainty }: ReferenceRun) {
  return { bench, body, flow, timeConstant, own: standardUncertainty / timeConstant, shared: 0 };
}
