import { stat } from 'node:fs/promises';
import { isAbsolute, join } from 'node:path';
import {
  type Condition,
  type Experiment,
  fixedFolder,
  type RecordingPlace,
  recordingPlace,
} from '../experiment/index.ts';
import type { RigCheck } from '../rig/index.ts';
import { keptRecordings, recordingSource } from '../store/index.ts';
import { analyzeOpened, openRecording } from './analyze-file.ts';
import { decidedWithin, fromFolder } from './decided.ts';
import { decidedOutcome, essenceOf, outcomeFrom } from './essence.ts';
import { noMarks, withMarks } from './found-marks.ts';
import { traitsOf } from './kept-result.ts';
import {
  type AskedRecording,
  type MeasuredFolder,
  type Outcome,
  poolOutcomes,
  unreadOutcome,
} from './pool.ts';
import { checksThatCount, outcomeWithRig, rigRemarksOf } from './rig-of-recording.ts';
import { sensorSettings } from './sensor.ts';
import { experimentDecaySettings } from './settings.ts';

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
 * Analyzes the recordings of an experiment folder, one after another, with what people decided about them.
 *
 * @param found by `findRecordings`
 * @param onProgress told how many are done
 */
export async function measureFolder(
  folder: string,
  experiment: Experiment,
  found: FoundFolder,
  onProgress: (done: number) => void = () => undefined,
): Promise<MeasuredFolder> {
  const rigChecks = await checksThatCount(folder);
  const outcomes: Outcome[] = [];
  for (const one of found.placed) {
    outcomes.push(await measured(folder, experiment, one, rigChecks));
    onProgress(outcomes.length);
  }
  return poolOutcomes(outcomes, found.asked);
}

async function measured(
  folder: string,
  experiment: Experiment,
  { path, place, condition, archived = path }: PlacedRecording,
  rigChecks: readonly RigCheck[],
): Promise<Outcome> {
  try {
    const file = isAbsolute(archived) ? archived : join(folder, archived);
    const history = await decidedWithin(folder, path);
    const read = history.reading ?? {};
    const opened = await openRecording(file, { read, chain: sensorSettings(experiment), zero: null });
    const { sha256 } = opened.recording;
    const settings = withMarks(experimentDecaySettings(experiment, condition.body), history.marks ?? noMarks);
    const essence = essenceOf(await analyzeOpened(opened, settings));
    const outcome = decidedOutcome(outcomeFrom(experiment, path, condition, sha256, essence), history);
    const { startedAt, duration } = essence;
    const times = { startedAt, duration, modified: (await traitsOf(file))?.modified ?? null };
    return outcomeWithRig(outcome, rigRemarksOf(experiment, rigChecks, { place, condition }, times));
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    return unreadOutcome(path, condition, error);
  }
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
