import type { Context } from 'hono';
import {
  buildPath,
  type Experiment,
  fixedFolder,
  type NamedPlace,
  recordingPlace,
} from '../experiment/index.ts';
import {
  appendDecision,
  DecisionError,
  ExperimentFileError,
  KeptAlreadyError,
  keptRecordings,
  openTurns,
  readExperiment,
  StoreError,
  type WaitingFile,
} from '../store/index.ts';
import { type Caller, callerOf } from './access/caller.ts';
import type { ServerContext } from './context.ts';
import type { KeepRequest, Kept } from './contract/index.ts';
import { ownPlace } from './owner.ts';
import { recordingEnding } from './place-by-name.ts';
import { RequestProblem } from './problem.ts';
import { record } from './record.ts';
import { sameBytesIn } from './same-bytes.ts';
import { asReadOptions } from './understanding.ts';

/** Gives files that were handed over their place among the recordings. */
export interface Keeping {
  /**
   * The recording that has these bytes already, among those that somebody may know of; null where there is none, or
   * where the experiment file has faults.
   */
  sameAs(caller: Caller, bytes: number, sha256: string): Promise<string | null>;
  /**
   * @throws RequestProblem where the place is none, or is another group's
   */
  pathFor(caller: Caller, place: NamedPlace, name: string): Promise<string>;
  /**
   * Keeps a file. The same bytes of the same group are the same recording: that place is then the answer.
   *
   * @throws RequestProblem
   */
  keep(c: Context, file: WaitingFile, place: NamedPlace, reading: KeepRequest['reading']): Promise<Kept>;
}

/** Keeps files of a server's folder. */
export function openKeeping({ folder, uploads, recordings, trail }: ServerContext): Keeping {
  const sameBytes = sameBytesIn(folder);
  const inTurn = openTurns();

  const pathsOf = async (experiment: Experiment, group: string | null): Promise<readonly string[]> => {
    const { paths } = await keptRecordings(folder, fixedFolder(experiment.recordings));
    return group === null ? paths : paths.filter((path) => groupOf(experiment, path) === group);
  };

  const built = (experiment: Experiment, caller: Caller, place: NamedPlace, name: string): string => {
    const own = ownPlace(experiment, caller, place);
    const path = buildPath(experiment, own, endingOf(name));
    if (!path.ok) throw new RequestProblem('unfit', path.message, path.mend);
    if (caller.group !== null && groupOf(experiment, path.path) !== caller.group) throw placeOfNobody;
    return path.path;
  };

  return {
    sameAs: async (caller, bytes, sha256) => {
      const experiment = await experimentIn(folder);
      if (experiment === null) return null;
      return sameBytes(await pathsOf(experiment, caller.group), bytes, sha256);
    },
    pathFor: async (caller, place, name) => built(await wholeExperiment(folder), caller, place, name),
    keep: async (c, file, place, reading) => {
      const caller = callerOf(c);
      const experiment = await wholeExperiment(folder);
      const path = built(experiment, caller, place, file.name);
      // Two files for one place at once: the second one finds the first.
      return inTurn(path.replace(recordingEnding, '').toLowerCase(), async () => {
        const ofGroup = await pathsOf(experiment, groupOf(experiment, path));
        const same = await sameBytes(ofGroup, file.bytes, file.sha256);
        if (same === null) {
          const taken = takenBy(await pathsOf(experiment, null), path);
          if (taken !== null) throw alreadyThere(taken);
          await uploads.keep(file.id, path).catch((error: unknown) => {
            if (error instanceof KeptAlreadyError) throw alreadyThere(path);
            throw diskProblem(error);
          });
        }
        const at = same ?? path;
        const { sha256 } = file;
        const note = `handed over ${same === null ? '' : 'again '}as ${file.name}`;
        // What is the same and lies elsewhere is read as it was.
        if (reading !== undefined && at === path) {
          const who = caller.group === null ? reading.who : caller.label;
          await keepReading(folder, path, sha256, { ...reading, who });
          const decided = `how it is read, signed ${who}`;
          await record(trail, c, { deed: 'decided', about: path, sha256, note: decided });
        }
        await record(trail, c, { deed: 'recording-kept', about: at, sha256, note });
        await uploads.settle(file.id, at);
        if (same !== null) return { path: same, again: true };
        await recordings.refresh(path);
        return { path, again: false };
      });
    },
  };
}

/** How a file was corrected before it was taken stays with it, as a person's decision. */
async function keepReading(
  folder: string,
  path: string,
  sha256: string,
  { read, who, why }: NonNullable<KeepRequest['reading']>,
): Promise<void> {
  const at = new Date().toISOString();
  try {
    await appendDecision(
      folder,
      path,
      { kind: 'reading', read: asReadOptions(read) },
      { who, why, at, sha256 },
    );
  } catch (error) {
    if (!(error instanceof DecisionError)) throw error;
    throw new RequestProblem(
      'cannot-write',
      `The file was taken as ${path}, but how it is to be read could not be kept with it.`,
      'Check the folder decisions and the room on the disk, and say it again at the recording.',
    );
  }
}

/** What the disk refuses, as an answer. */
export function diskProblem(error: unknown): unknown {
  if (!(error instanceof StoreError)) return error;
  return new RequestProblem('cannot-write', error.message, 'Check the permissions and the room on the disk.');
}

/** The experiment; null where its file has faults. */
export async function experimentIn(folder: string): Promise<Experiment | null> {
  return readExperiment(folder).catch((error: unknown) => {
    if (error instanceof ExperimentFileError) return null;
    throw error;
  });
}

/** @throws RequestProblem where the experiment file has faults */
export async function wholeExperiment(folder: string): Promise<Experiment> {
  const experiment = await experimentIn(folder);
  if (experiment !== null) return experiment;
  throw new RequestProblem(
    'unfit',
    'The experiment file does not fit, so nobody knows where a recording belongs.',
    'Mend the experiment file first.',
  );
}

const placeOfNobody = new RequestProblem(
  'unfit',
  'The paths of this experiment do not say which group a recording is of, so groups cannot hand in by themselves.',
  'Ask the instructor to name {group} in the pattern under recordings, or to hand it in.',
);

function alreadyThere(path: string): RequestProblem {
  return new RequestProblem(
    'taken',
    `There is a recording at ${path} already. Nothing was written over.`,
    'Give this one another repeat, or move the other away by hand.',
  );
}

function groupOf(experiment: Experiment, path: string): string | null {
  const place = recordingPlace(experiment, path);
  return place.kind === 'read' ? place.group : null;
}

/** The ending by which the file is found again; text files of other names become .txt. */
function endingOf(name: string): string {
  return recordingEnding.exec(name)?.[0].toLowerCase() ?? (/\.gz$/i.test(name) ? '.txt.gz' : '.txt');
}

/** A recording of the same place with any ending, or in other capitals where a disk does not tell those apart. */
function takenBy(paths: readonly string[], path: string): string | null {
  const bare = (text: string) => text.replace(recordingEnding, '').toLowerCase();
  return paths.find((other) => bare(other) === bare(path)) ?? null;
}
