import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { StoreError } from './experiment-save.ts';
import { fileStamp } from './file-stamp.ts';
import { insideFolder } from './inside-folder.ts';
import { leadsOut } from './leads-out.ts';
import { plainFile, utf8Text } from './plain-file.ts';
import { type FoundRecordings, recordingPaths } from './recording-paths.ts';

/** Folder of an experiment in which its recordings are archived. */
export const archiveFolder = 'archive';
const indexName = 'archive.json';
const format = 'emberline archive 1';

/** Larger files are no index, bytes. */
const largest = 64 << 20;
const hexHash = z.string().regex(/^[0-9a-f]{64}$/);
const inside = z
  .string()
  .max(2000)
  .refine((path) => isInside(path), { error: 'is no path inside the folder' });

const entrySchema = z.object({
  recording: inside,
  file: inside,
  sha256: hexHash,
  bytes: z.number().int().nonnegative(),
  modified: z.number(),
  samples: z.number().int().nonnegative(),
  parquet: z.object({ sha256: hexHash, bytes: z.number().int().nonnegative() }),
  repairs: z.array(z.string().max(1000)).max(50),
});

const indexSchema = z.object({ format: z.literal(format), recordings: z.array(entrySchema).max(100_000) });

/** A recording that was archived: its text, and the file that holds its samples. */
export interface ArchivedRecording {
  /** Path of the text from the experiment folder, with / between its parts. */
  readonly recording: string;
  /** Path of the Parquet file from the archive's folder, the same way. */
  readonly file: string;
  /** SHA-256 of the text, and its size in bytes. */
  readonly sha256: string;
  readonly bytes: number;
  /** When the text was last written, ms since 1970 (UTC). */
  readonly modified: number;
  /** Usable samples of its channel. */
  readonly samples: number;
  /** The Parquet file as it was when it had been held against the text. */
  readonly parquet: { readonly sha256: string; readonly bytes: number };
  /** What its text has that the samples do not say, in words; empty where there is nothing. */
  readonly repairs: readonly string[];
}

const about =
  'Recordings whose samples are kept as Parquet files: where each file lies, and the SHA-256 of the text that it was made from. A text may be removed once its file was held against it, sample by sample; decisions and results then go on to count for the SHA-256 of the text.';

/**
 * The recordings that an archive holds, in the order in which they were added.
 *
 * @param root folder of the archive
 * @throws StoreError where its index cannot be read
 */
export async function readArchive(root: string): Promise<readonly ArchivedRecording[]> {
  const path = join(root, indexName);
  if ((await lstat(path).catch(() => null)) === null) return [];
  const bytes = await plainFile(path, largest);
  if (typeof bytes === 'string') throw unfit(path, `it ${bytes}`);
  const read = indexSchema.safeParse(parsed(utf8Text(bytes)));
  if (read.success) return read.data.recordings;
  const [issue] = read.error.issues;
  throw unfit(path, `${issue?.path.join(' › ') || 'it'}: ${issue?.message ?? 'does not fit'}`);
}

/** Writes the index of an archive. @throws Error of the file system */
export async function writeArchive(root: string, recordings: readonly ArchivedRecording[]): Promise<void> {
  await writeAtomically(join(root, indexName), `${JSON.stringify({ about, format, recordings }, null, 1)}\n`);
}

/** The indexes that were read last, by folder, for as long as their files are as they were. */
const known = new Map<string, { stamp: string; entries: ReadonlyMap<string, ArchivedRecording> }>();
const mostKnown = 32;

/**
 * What the archive of an experiment holds, by the path of each recording; nothing where its index cannot be read, which
 * `emberline verify` says.
 *
 * @param folder of the experiment
 */
export async function archivedIn(folder: string): Promise<ReadonlyMap<string, ArchivedRecording>> {
  const root = join(folder, archiveFolder);
  const stamp = await fileStamp(join(root, indexName));
  const before = known.get(root);
  if (before?.stamp === stamp) return before.entries;
  const list = (await leadsOut(folder, root).catch(() => true))
    ? []
    : await readArchive(root).catch(() => []);
  const entries = new Map(list.map((one) => [one.recording, one]));
  known.delete(root);
  known.set(root, { stamp, entries });
  for (const oldest of known.keys()) {
    if (known.size <= mostKnown) break;
    known.delete(oldest);
  }
  return entries;
}

/** Recordings of a folder, whether their texts are there or only their samples in the archive. */
export interface KeptRecordings extends FoundRecordings {
  /** Of those whose text is gone, the file in the archive, from the experiment folder. */
  readonly archived: ReadonlyMap<string, string>;
}

/**
 * The recordings below a folder of an experiment: those whose texts are there, and those whose texts were removed once
 * they were archived, under the paths that they had.
 *
 * @param folder of the experiment
 * @param below folder inside it, with / between its parts
 */
export async function keptRecordings(folder: string, below: string): Promise<KeptRecordings> {
  const found = await recordingPaths(folder, below);
  const there = new Set(found.paths);
  const archived = new Map<string, string>();
  for (const { recording, file } of (await archivedIn(folder)).values()) {
    if (there.has(recording) || (below !== '' && !recording.startsWith(`${below}/`))) continue;
    const path = `${archiveFolder}/${file}`;
    if (await isPlain(folder, path)) archived.set(recording, path);
  }
  return { ...found, paths: [...found.paths, ...archived.keys()].sort(), archived };
}

/**
 * Where a recording is read from: its text, or where that is gone its file in the archive.
 *
 * @param folder of the experiment
 * @param recording path from there, with / between its parts
 * @returns path from the experiment folder; that of the text where there is neither
 */
export async function recordingSource(folder: string, recording: string): Promise<string> {
  const text = await lstat(join(folder, recording)).catch(() => null);
  if (text !== null) return recording;
  const entry = (await archivedIn(folder)).get(recording);
  if (entry === undefined) return recording;
  const path = `${archiveFolder}/${entry.file}`;
  return (await isPlain(folder, path)) ? path : recording;
}

async function isPlain(folder: string, path: string): Promise<boolean> {
  const found = await lstat(join(folder, path)).catch(() => null);
  return found?.isFile() === true && !(await leadsOut(folder, join(folder, path)));
}

function isInside(path: string): boolean {
  try {
    return insideFolder(path) === path;
  } catch {
    return false;
  }
}

function parsed(text: string | null): unknown {
  try {
    return text === null ? null : JSON.parse(text);
  } catch {
    return null;
  }
}

function unfit(path: string, what: string): StoreError {
  return new StoreError(
    `${path}: is no index of an archive (${what.slice(0, 300)}); take it from a backup, or move the folder away and archive anew`,
  );
}
