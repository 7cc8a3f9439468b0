import { randomBytes } from 'node:crypto';
import { mkdir, rename, rm, stat, utimes } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { type Experiment, fixedFolder, recordingPlace } from '../experiment/index.ts';
import type { RecordingFile } from '../recording/files.ts';
import { type ReadOptions, RecordingError } from '../recording/index.ts';
import {
  type ArchivedRecording,
  DecisionError,
  decisionHistory,
  fileHash,
  flushFolder,
  leadsOut,
  readArchive,
  readDecisions,
  readReferenceRuns,
  recordingPaths,
  StoreError,
  termOf,
  withFileLock,
  writeArchive,
} from '../store/index.ts';
import { ArchiveError } from './archive-error.ts';
import { archivedFacts } from './archived-file.ts';
import { archivePlace } from './place.ts';
import { sameSamples } from './same-samples.ts';
import { writeArchiveFile } from './write.ts';

/** What became of a text. `kept`: it was archived before, and neither text nor file has changed. */
export type ArchiveOutcome =
  | { readonly state: 'archived' | 'kept'; readonly entry: ArchivedRecording }
  | { readonly state: 'refused'; readonly recording: string; readonly why: string };

export interface ArchiveRun {
  /** ms since 1970 (UTC). */
  readonly now: () => number;
  /** Told of the text that is begun, as one of how many, and how far it is, 0 to 1. */
  readonly tell: (recording: string, number: number, of: number, done: number) => void;
  /** Told of each text that is archived, once its file is in its place; the next one waits. */
  readonly archived: (entry: ArchivedRecording) => Promise<void>;
}

/** A text that was written since is still growing, or may be, ms. */
const restsFor = 30_000;
/** The index is written again after so long, ms: what is archived since is done once more after a loss of power. */
const indexEvery = 2000;

/**
 * Archives the texts of an experiment's recordings, those of its reference runs among them: each into a file of its own,
 * which is read back from the disk and held against the text before it gets its name. What was archived before and has
 * not changed is left as it is. No text is changed or removed.
 *
 * @param root folder of the archive; made where it is not there
 * @throws StoreError where the index of the archive cannot be read; Error of the file system
 */
export async function archiveRecordings(
  folder: string,
  experiment: Experiment,
  root: string,
  run: ArchiveRun,
): Promise<ArchiveOutcome[]> {
  const { now, tell } = run;
  await mkdir(root, { recursive: true });
  return withFileLock(join(root, 'archive.json'), async () => {
    const entries = new Map((await readArchive(root)).map((one) => [one.recording, one]));
    const outcomes: ArchiveOutcome[] = [];
    const recordings = await textsOf(folder, experiment);
    let written = performance.now();
    let fresh = false;
    try {
      for (const [i, recording] of recordings.entries()) {
        const told = (done: number) => tell(recording, i + 1, recordings.length, done);
        told(0);
        const outcome = await archived(
          { folder, experiment, root, recording, now: now() },
          entries,
          told,
        ).catch((error: unknown) => refused(recording, error, folder));
        outcomes.push(outcome);
        if (outcome.state !== 'archived') continue;
        entries.set(recording, outcome.entry);
        fresh = true;
        await run.archived(outcome.entry);
        if (performance.now() - written < indexEvery) continue;
        await writeArchive(root, [...entries.values()]);
        written = performance.now();
        fresh = false;
      }
    } finally {
      if (fresh) await writeArchive(root, [...entries.values()]);
    }
    return outcomes;
  });
}

async function textsOf(folder: string, experiment: Experiment): Promise<readonly string[]> {
  const placed =
    experiment.recordings === undefined
      ? []
      : (await recordingPaths(folder, fixedFolder(experiment.recordings))).paths;
  const { runs } = await readReferenceRuns(folder);
  return [...new Set([...placed, ...runs.map(({ recording }) => recording)])];
}

interface Order {
  readonly folder: string;
  readonly experiment: Experiment;
  readonly root: string;
  readonly recording: string;
  readonly now: number;
}

async function archived(
  { folder, experiment, root, recording, now }: Order,
  entries: ReadonlyMap<string, ArchivedRecording>,
  told: (done: number) => void,
): Promise<ArchiveOutcome> {
  const text = join(folder, recording);
  const before = entries.get(recording);
  const found = await stat(text).catch(() => null);
  if (found === null) {
    if (before !== undefined) return { state: 'kept', entry: before };
    throw new ArchiveError('There is no such text.', 'Take it from a backup.');
  }
  if (await leadsOut(folder, text)) {
    throw new ArchiveError('It is a link that leads out of the folder.', 'Put the file itself there.');
  }
  if (Math.abs(now - found.mtimeMs) < restsFor) {
    throw new ArchiveError(
      `It was written less than ${restsFor / 1000} s ago and may still grow.`,
      'Archive it when the logger is done.',
    );
  }
  const sha256 = await fileHash(text);
  const reading = decisionHistory(await readDecisions(folder, recording), sha256).reading ?? {};
  if (before !== undefined && before.sha256 === sha256 && (await stillGood(root, before, reading))) {
    return { state: 'kept', entry: before };
  }
  const place = recordingPlace(experiment, recording);
  const { section, group } = place.kind === 'read' ? place : { section: null, group: null };
  const taken = new Set(
    [...entries.values()].flatMap((one) => (one === before ? [] : [one.file.toLowerCase()])),
  );
  const file = archivePlace(recording, { term: termOf(folder, experiment), section, group }, (path) => {
    return taken.has(path.toLowerCase());
  });
  const order = { text, recording, reading, modified: found.mtimeMs };
  const entry = await placed(order, root, file, told);
  if (entry.sha256 !== sha256) {
    throw new ArchiveError('It was written while it was archived.', 'Archive it when the logger is done.');
  }
  return { state: 'archived', entry };
}

/** Whether a file is as it was, and made by reading the text as it is read now. */
async function stillGood(root: string, entry: ArchivedRecording, reading: ReadOptions): Promise<boolean> {
  const path = join(root, entry.file);
  const found = await stat(path).catch(() => null);
  if (found === null || found.size !== entry.parquet.bytes) return false;
  const before = await archivedFacts(path).catch(() => null);
  return before !== null && isDeepStrictEqual(before.reading, { ...reading });
}

interface TextOrder {
  readonly text: string;
  readonly recording: string;
  readonly reading: ReadOptions;
  readonly modified: number;
}

/** Writes the file under a name that nobody lists, holds it against the text, and gives it its name. */
async function placed(
  order: TextOrder,
  root: string,
  file: string,
  told: (done: number) => void,
): Promise<ArchivedRecording> {
  const { text, recording, modified } = order;
  const path = join(root, file);
  if (await leadsOut(root, path)) {
    throw new ArchiveError(
      'Its place in the archive is behind a link that leads elsewhere.',
      'Put the folder itself there.',
    );
  }
  await mkdir(dirname(path), { recursive: true });
  const draft = join(dirname(path), `.${basename(path).slice(0, 40)}.${randomBytes(6).toString('hex')}.tmp`);
  try {
    await writeArchiveFile(order, draft, (bytes, of) => told((0.5 * bytes) / of));
    const read = await sameSamples(text, draft, recording, (bytes, of) => told(0.5 + (0.5 * bytes) / of));
    const parquet = { sha256: await fileHash(draft), bytes: (await stat(draft)).size };
    // The checks of a rig count from when a recording was last written where it does not say when it began.
    await utimes(draft, modified / 1000, modified / 1000);
    await rename(draft, path);
    await flushFolder(dirname(path));
    const { sha256, bytes, samples } = read;
    return { recording, file, sha256, bytes, modified, samples, parquet, repairs: repairsOf(read) };
  } finally {
    await rm(draft, { force: true });
  }
}

/** Remarks about lines of the text that the samples do not show, or how they were made to fit. */
const repairs: readonly string[] = ['samples-dropped', 'time-repaired', 'header-repeated'];
/** Cautions about what the samples say themselves, or what can be said otherwise afterwards. */
const harmless: readonly string[] = ['gaps', 'sampling-uneven', 'clipped', 'unit-assumed'];

/** What the text has that its samples do not say. */
function repairsOf({ remarks, channels, channel }: RecordingFile): string[] {
  const words = remarks
    .filter(({ code, severity }) => {
      return repairs.includes(code) || (severity !== 'note' && !harmless.includes(code));
    })
    .map(({ message }) => message);
  if (channels.length > 1) {
    words.push(
      `It holds ${channels.length} channels; from the archive only ${channel.name} can be analyzed, the others are numbers in columns of their own.`,
    );
  }
  return words.map((one) => one.slice(0, 1000)).slice(0, 50);
}

function refused(recording: string, error: unknown, folder: string): ArchiveOutcome {
  if (error instanceof RecordingError) {
    return { state: 'refused', recording, why: `${error.what} ${error.mend}` };
  }
  if (error instanceof ArchiveError) {
    return { state: 'refused', recording, why: `${error.message} ${error.mend}` };
  }
  if (error instanceof DecisionError || error instanceof StoreError) {
    return { state: 'refused', recording, why: error.message.replaceAll(`${folder}/`, '') };
  }
  throw error;
}
