import { type Experiment, fixedFolder } from '../experiment/index.ts';
import { readDecisions, undoneIds } from './decisions.ts';
import { ExperimentFileError, readExperiment } from './experiment-file.ts';
import type { Finding } from './finding.ts';
import { readReleases } from './releases.ts';
import { readRigChecks } from './rig-checks.ts';
import { readReferenceRuns } from './rig-references.ts';

/** Bytes that something in the folder is about. */
interface Referred {
  /** Path of the recording. */
  readonly path: string;
  readonly sha256: string;
  /** What is about it, for a sentence. */
  readonly by: string;
}

/** What the files that people's words are kept in say, and whether they can be read. */
export interface Books {
  readonly experiment: Experiment | null;
  readonly referred: readonly Referred[];
  readonly decisions: number;
  readonly findings: readonly Finding[];
}

/**
 * Reads what people decided, checked, released and wrote into the experiment file.
 *
 * @param files all files of the folder
 */
export async function readBooks(folder: string, files: readonly string[]): Promise<Books> {
  const findings: Finding[] = [];
  const referred: Referred[] = [];
  /** Null where it cannot be read. */
  const asked = async <T>(work: Promise<T>): Promise<T | null> => {
    return work.catch((error: unknown) => {
      if (!(error instanceof Error)) throw error;
      const message = error.message.replaceAll(`${folder}/`, '');
      findings.push({ kind: 'fault', message: /[.!?]$/.test(message) ? message : `${message}.` });
      return null;
    });
  };
  const experiment = await asked(
    readExperiment(folder).catch((error: unknown) => {
      if (!(error instanceof ExperimentFileError)) throw error;
      throw new Error(error.message.split('\n').slice(0, 3).join('; '));
    }),
  );
  let decisions = 0;
  for (const recording of decidedAbout(files)) {
    const stored = await asked(readDecisions(folder, recording));
    const undone = undoneIds(stored ?? []);
    for (const { id, kind, sha256 } of stored ?? []) {
      decisions += 1;
      if (kind !== 'undo' && !undone.has(id))
        referred.push({ path: recording, sha256, by: `decision ${id}` });
    }
  }
  await asked(readRigChecks(folder));
  const runs = await asked(readReferenceRuns(folder));
  const withdrawn = new Set(runs?.withdrawn.map(({ id }) => id));
  for (const { id, recording, sha256 } of runs?.runs ?? []) {
    if (!withdrawn.has(id)) referred.push({ path: recording, sha256, by: `reference run ${id}` });
  }
  await asked(readReleases(folder));
  return { experiment, referred, decisions, findings };
}

function decidedAbout(files: readonly string[]): readonly string[] {
  return files
    .filter((path) => path.startsWith('decisions/') && path.endsWith('.json'))
    .map((path) => path.slice('decisions/'.length, -'.json'.length));
}

/** Folder below which recordings lie; null where the experiment file does not say. */
export function recordingsFolder(experiment: Experiment | null): string | null {
  return experiment === null ? null : fixedFolder(experiment.recordings);
}
