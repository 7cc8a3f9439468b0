import { randomBytes } from 'node:crypto';
import { lstat, mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { CellRows, NoSheet } from '../marking/index.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { insideFolder } from './inside-folder.ts';
import { leadsOut } from './leads-out.ts';
import { isCode, isWithin, placeNew } from './place-new.ts';
import { plainFile } from './plain-file.ts';
import { largestSheet, sheetCells } from './submission-cells.ts';

/** Folder of what groups hand in. */
const submissionsFolder = 'submissions';
/** Place of sheets about several groups. */
const together = 'together';

const mostFiles = 5000;
const deepest = 4;
const sheetEndings = /\.(?:csv|tsv|txt|xlsx)$/i;

/** A file that was handed in. */
export interface SubmissionFile {
  /** From the experiment folder, with / between its parts. */
  readonly path: string;
  /** When it was taken, by its name; else when it was last changed. ISO 8601, UTC. */
  readonly at: string;
  /** Code of a group by its folder or its name; null where they name none. What it says is for the caller to judge. */
  readonly named: string | null;
}

/** What lies below `submissions/`. */
export interface FoundSubmissions {
  /** The earliest first. */
  readonly files: readonly SubmissionFile[];
  /** One sentence each: which file was left out, and what to do. */
  readonly faults: readonly string[];
}

/**
 * Lists what groups handed in. Links are not followed; hidden files, and those that office programs leave behind, are
 * passed over.
 *
 * @param folder of the experiment
 */
export async function findSubmissions(folder: string): Promise<FoundSubmissions> {
  const files: SubmissionFile[] = [];
  const faults: string[] = [];
  const waiting = [submissionsFolder];
  let seen = 0;
  if (await leadsOut(folder, join(folder, submissionsFolder)).catch(() => false)) {
    return { files, faults: ['submissions is a link that leads elsewhere: put the folder itself there.'] };
  }
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    const entries = await readdir(join(folder, at), { withFileTypes: true }).catch(() => []);
    for (const entry of entries) {
      if (/^(?:\.|~\$)/.test(entry.name)) continue;
      seen += 1;
      if (seen > mostFiles) {
        faults.push(`submissions holds more than ${mostFiles} files: the rest was not looked at.`);
        return { files: files.sort(byTime), faults };
      }
      const path = `${at}/${entry.name}`;
      if (entry.isDirectory()) {
        if (path.split('/').length <= deepest) waiting.push(path);
        else faults.push(`${path} lies too deep: put its files nearer to submissions.`);
      } else if (!entry.isFile()) {
        faults.push(`${path} is no plain file: put the file itself there.`);
      } else if (!sheetEndings.test(entry.name)) {
        faults.push(`${path} is no sheet that can be read: save it as CSV or XLSX.`);
      } else {
        const found = await lstat(join(folder, path)).catch(() => null);
        if (found !== null)
          files.push({ path, at: momentOf(entry.name, found.mtimeMs), named: namedBy(path) });
      }
    }
  }
  return { files: files.sort(byTime), faults };
}

function byTime(a: SubmissionFile, b: SubmissionFile): number {
  if (a.at !== b.at) return a.at < b.at ? -1 : 1;
  return a.path < b.path ? -1 : 1;
}

const moment = /^(\d{4}-\d{2}-\d{2})T(\d{2})-(\d{2})-(\d{2})-(\d{3})Z(?:-|\.)/;

/** When a file was taken, by the name that it was given then. */
function momentOf(name: string, modified: number): string {
  const [, day, h, m, s, ms] = moment.exec(name) ?? [];
  const named = new Date(day === undefined ? Number.NaN : `${day}T${h}:${m}:${s}.${ms}Z`);
  return (Number.isNaN(named.getTime()) ? new Date(modified) : named).toISOString();
}

function namedBy(path: string): string | null {
  const parts = path.split('/').slice(1);
  const folder = parts.length > 1 ? parts[0] : undefined;
  if (folder === together) return null;
  if (folder !== undefined) return folder;
  return (parts[0] ?? '').replace(moment, '').replace(/\.[^.]*$/, '') || null;
}

/**
 * The cells of a sheet that was handed in.
 *
 * @param path from the experiment folder
 */
export async function readSubmission(folder: string, path: string): Promise<CellRows | NoSheet> {
  const bytes = await plainFile(join(folder, insideFolder(path)), largestSheet);
  if (typeof bytes !== 'string') return sheetCells(bytes);
  return { message: `The file was left out: it ${bytes}.`, action: 'Put the sheet itself there.' };
}

/** A file is no sheet by its ending: nothing is wrong with the disk. */
export class SheetEndingError extends StoreError {}

/** A file that is handed in. */
export interface NewSubmission {
  /** As the person's disk calls it; only its ending and its plain letters are kept. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Code of the group that it is about; null for several. */
  readonly group: string | null;
  /** ISO 8601, from the caller's clock. */
  readonly at: string;
}

/**
 * Keeps a file below `submissions/`, byte for byte, under the moment at which it is taken. Nothing is written over; a
 * file with the same bytes at the same place is not kept twice.
 *
 * @returns its path from the experiment folder
 * @throws SheetEndingError where it is no sheet by its ending
 * @throws StoreError where it is too large, or cannot be written
 */
export async function keepSubmission(folder: string, submission: NewSubmission): Promise<string> {
  const { name, bytes, group, at } = submission;
  const own = basename(name.replaceAll('\\', '/'));
  const ending = sheetEndings.exec(own)?.[0].toLowerCase();
  if (ending === undefined) {
    throw new SheetEndingError(
      'A sheet is a file that ends in .csv, .tsv, .txt or .xlsx. Save it as one of these.',
    );
  }
  if (bytes.length > largestSheet) {
    throw new StoreError(`The sheet has more than ${largestSheet / 1e6} MB. Take out what is no submission.`);
  }
  const place = `${submissionsFolder}/${insideFolder(group ?? together)}`;
  const stem = own
    .slice(0, -ending.length)
    .replace(/[^A-Za-z0-9_-]+/g, '-')
    .replace(/^-+|-+$/g, '');
  const stamp = new Date(at).toISOString().replace(/[:.]/g, '-');
  const path = `${place}/${stamp}${stem === '' ? '' : `-${stem.slice(0, 60)}`}${ending}`;
  const same = await sameBytes(folder, place, bytes, ending);
  if (same !== null) return same;
  await written(folder, path, bytes);
  return path;
}

/** The latest file of a place, where it has these very bytes. */
async function sameBytes(
  folder: string,
  place: string,
  bytes: Uint8Array,
  ending: string,
): Promise<string | null> {
  const names = (await readdir(join(folder, place)).catch(() => [])).filter((name) => moment.test(name));
  const last = names.toSorted().at(-1);
  if (last === undefined || !last.endsWith(ending)) return null;
  const found = await plainFile(join(folder, place, last), largestSheet);
  return typeof found !== 'string' && Buffer.compare(found, bytes) === 0 ? `${place}/${last}` : null;
}

async function written(folder: string, path: string, bytes: Uint8Array): Promise<void> {
  const target = join(folder, path);
  const draft = join(dirname(target), `.${randomBytes(8).toString('hex')}.tmp`);
  try {
    await mkdir(dirname(target), { recursive: true });
    if (!(await isWithin(folder, dirname(target)))) {
      throw new StoreError('The folder of this group is a link that leads elsewhere.');
    }
    await writeFile(draft, bytes, { flag: 'wx', flush: true });
    await placeNew(draft, target);
  } catch (error) {
    if (error instanceof StoreError) throw error;
    if (isCode(error, 'EEXIST')) {
      throw new StoreError(`There is a file at ${path} already. Hand the sheet in once more.`);
    }
    throw new StoreError(
      `The sheet cannot be kept at ${path} (${reason(error)}). Check the folder and the disk.`,
    );
  } finally {
    await rm(draft, { force: true }).catch(() => undefined);
  }
}
