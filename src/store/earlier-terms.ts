import { realpath, stat } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import type { Experiment } from '../experiment/index.ts';
import { ExperimentFileError, readExperiment, reason } from './experiment-file.ts';

/** The folder of an earlier term, to be read and never written. */
interface EarlierTerm {
  /** As it was written. */
  readonly written: string;
  /** Whole path, links resolved. */
  readonly folder: string;
  /** What its experiment file calls the term, or the name of the folder. */
  readonly term: string;
  readonly experiment: Experiment;
}

/** A folder of an earlier term that cannot be used. */
export interface MissingTerm {
  readonly written: string;
  /** One sentence: why not, and what to do. */
  readonly message: string;
}

/** The earlier terms of a course, in the order in which they were written. */
export interface EarlierTerms {
  readonly terms: readonly EarlierTerm[];
  readonly missing: readonly MissingTerm[];
}

/** What the term of a folder is called: as its experiment file says, or the name of the folder. */
export function termOf(folder: string, experiment: Pick<Experiment, 'term'>): string {
  return experiment.term ?? basename(resolve(folder));
}

/**
 * Opens the folders of earlier terms. Nothing is written there. What such a folder calls its own earlier terms is not
 * followed; a folder that is named twice, or is the present one, counts once and is reported.
 *
 * @param folder of the present experiment
 * @param written paths from there, or whole ones
 */
export async function openEarlierTerms(folder: string, written: readonly string[]): Promise<EarlierTerms> {
  const present = await realpath(folder).catch(() => resolve(folder));
  const seen = new Set([present]);
  const terms: EarlierTerm[] = [];
  const missing: MissingTerm[] = [];
  for (const path of written) {
    const opened = await open(resolve(folder, path));
    if (!opened.ok) {
      missing.push({ written: path, message: opened.message });
    } else if (seen.has(opened.folder)) {
      const again = opened.folder === present ? 'is this very folder' : 'is named twice';
      missing.push({ written: path, message: `It ${again}: take it out of the list of earlier terms.` });
    } else {
      seen.add(opened.folder);
      const { folder: real, experiment } = opened;
      terms.push({ written: path, folder: real, term: termOf(real, experiment), experiment });
    }
  }
  return { terms, missing };
}

type Opened =
  | { readonly ok: true; readonly folder: string; readonly experiment: Experiment }
  | { readonly ok: false; readonly message: string };

async function open(path: string): Promise<Opened> {
  try {
    const folder = await realpath(path);
    if (!(await stat(folder)).isDirectory()) {
      return {
        ok: false,
        message: 'It is no folder: name the folder that holds the experiment.yaml of that term.',
      };
    }
    return { ok: true, folder, experiment: await readExperiment(folder) };
  } catch (error) {
    if (error instanceof ExperimentFileError) {
      const first = error.faults[0];
      const why = first === undefined ? '' : ` (line ${first.line}: ${first.message})`;
      return {
        ok: false,
        message: `Its experiment.yaml cannot be used${why}: mend it there, or leave the folder out.`,
      };
    }
    return {
      ok: false,
      message: `It cannot be opened (${reason(error)}): mend the path, or leave the folder out.`,
    };
  }
}
