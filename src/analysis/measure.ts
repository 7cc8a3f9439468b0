import { stat } from 'node:fs/promises';
import { isAbsolute, join } from 'node:path';
import {
  type Condition,
  type Experiment,
  fixedFolder,
  type RecordingPlace,
  recordingPlace,
} from '../experiment/index.ts';
import { keptRecordings, recordingSource } from '../store/index.ts';
import { fromFolder } from './decided.ts';
import type { AskedRecording } from './pool.ts';

/** A recording whose path says what it is of. */
export interface PlacedRecording {
  /** From the experiment folder, with / between its parts. */
  readonly path: string;
  readonly place: RecordingPlace;
  readonly condition: Condition;
  /** Its file in the archive, from the experiment folder, where that is all that is left of it. */
  readonly archived?: string;
}

/** The recordings of a folder by their paths. */
export interface FoundFolder {
  readonly placed: readonly PlacedRecording[];
  readonly asked: readonly AskedRecording[];
}

/**
 * Finds the recordings of an experiment and what their paths say of them.
 *
 * @param given paths as typed; empty for all whose paths fit the pattern
 */
export async function findRecordings(
  folder: string,
  experiment: Experiment,
  given: readonly string[],
): Promise<FoundFolder> {
  const found =
    given.length > 0
      ? await givenRecordings(folder, given)
      : await keptRecordings(folder, fixedFolder(experiment.recordings));
  const placed: PlacedRecording[] = [];
  const asked: AskedRecording[] = [];
  if (given.length === 0 && experiment.recordings === undefined) {
    asked.push({
      path: 'experiment.yaml',
      message:
        'It does not say how the paths of recordings are built: write a pattern such as recordings: "recordings/{bench}/{body}_{flow}".',
    });
    return { placed, asked };
  }
  for (const path of found.paths) {
    const archived = found.archived.get(path);
    if (given.length > 0 && archived === undefined && !(await isThere(folder, path))) {
      asked.push({ path, message: 'There is no such file.' });
      continue;
    }
    const place = recordingPlace(experiment, path);
    if (place.kind === 'asked') asked.push({ path, message: place.message });
    else if (place.body === null || place.flow === null) {
      asked.push({ path, message: 'The pattern of the experiment file names no body or no flow.' });
    } else {
      const condition = { body: place.body, flow: place.flow };
      placed.push({ path, place, condition, ...(archived !== undefined && { archived }) });
    }
  }
  if (found.elsewhere) asked.push({ path: fixedFolder(experiment.recordings), message: linkedElsewhere });
  if (found.cut) asked.push({ path: 'the rest', message: 'There are too many files here to look at all.' });
  return { placed, asked };
}

const linkedElsewhere =
  'This is a link that leads out of the experiment folder: put the folder itself there.';

async function givenRecordings(folder: string, given: readonly string[]) {
  const paths = given.map((path) => fromFolder(folder, path));
  const archived = new Map<string, string>();
  for (const path of paths) {
    const source = isAbsolute(path) ? path : await recordingSource(folder, path);
    if (source !== path) archived.set(path, source);
  }
  return { paths, archived, cut: false, elsewhere: false };
}

async function isThere(folder: string, path: string): Promise<boolean> {
  return stat(isAbsolute(path) ? path : join(folder, path)).then(
    () => true,
    () => false,
  );
}

/** Where the recordings of an experiment are expected, for a folder that holds none. */
export function expectedRecordings(experiment: Experiment): AskedRecording {
  return {
    path: fixedFolder(experiment.recordings) || '.',
    message: `There are no recordings here. The pattern of the experiment file expects them as ${experiment.recordings ?? ''}, with an ending such as .txt or .csv.`,
  };
}
