import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { keptRecordings } from './archive-index.ts';
import { experimentFileName } from './experiment-file.ts';
import { fileHash } from './file-hash.ts';
import type { Finding } from './finding.ts';
import { type FolderFiles, folderFiles, isLeftover } from './folder-files.ts';
import { insideFolder } from './inside-folder.ts';
import { leadsOut } from './leads-out.ts';
import { findSubmissions } from './submissions.ts';
import { type Archived, verifyArchive } from './verify-archive.ts';
import { readBooks, recordingsFolder } from './verify-books.ts';
import { type Told, toldByTrail } from './verify-trail.ts';

/** What a folder holds, held against what it says of itself. */
export interface Verified {
  /** Whether everything is there, byte for byte. */
  readonly whole: boolean;
  readonly trail: Pick<Told, 'lines' | 'days' | 'end'>;
  /** Recordings that are there, as texts or in the archive, and how many of them the trail vouches for. */
  readonly recordings: { readonly there: number; readonly vouched: number };
  /** The same of what was handed in. */
  readonly submissions: { readonly there: number; readonly vouched: number };
  readonly decisions: number;
  /** Files of the archive, and how many of them stand for a text that is gone. */
  readonly archived: { readonly there: number; readonly alone: number };
  /** Bytes that were read. */
  readonly bytes: number;
  readonly findings: readonly Finding[];
}

/**
 * Holds a folder, such as a copy of one, against its own trail and books: whether the trail is unbroken, every file that
 * was kept is there with its bytes, and whatever people decided is about bytes that are there. Nothing is written.
 *
 * @param tell told how many bytes were read, of how many
 * @throws Error of the file system where the folder cannot be listed
 */
export async function verifyFolder(
  folder: string,
  tell: (done: number, total: number) => void = () => undefined,
): Promise<Verified> {
  const all = await folderFiles(folder);
  const told = await toldByTrail(folder);
  const books = await readBooks(folder, all.files);
  const below = recordingsFolder(books.experiment);
  const recordings = below === null ? [] : (await keptRecordings(folder, below)).paths;
  const { files: sheets, faults: oddSheets } = await findSubmissions(folder);
  const asked = new Set([...told.kept.keys(), ...books.referred.map(({ path }) => path)]);
  const archived = await verifyArchive(folder);
  const { hashes, bytes } = await hashesOf(folder, asked, archived, tell);
  const vouched = (path: string) => told.kept.has(path) && hashes.get(path) === told.kept.get(path);
  const handedIn = sheets.map(({ path }) => path);
  const findings = [
    ...told.findings,
    ...books.findings,
    ...archived.findings,
    ...[...told.kept].flatMap(([path, sha256]) => faultOf(path, sha256, hashes, 'as it was kept')),
    ...books.referred.flatMap(({ path, sha256, by }) =>
      faultOf(path, sha256, hashes, `as ${by} is about it`),
    ),
    ...unknown(recordings, told, 'recording', 'recordings'),
    ...unknown(handedIn, told, 'sheet', 'sheets'),
    ...oddSheets.map((message): Finding => ({ kind: 'note', message })),
    ...(await experimentNote(folder, told)),
    ...aboutFiles(all),
  ];
  return {
    whole: findings.every(({ kind }) => kind === 'note'),
    trail: { lines: told.lines, days: told.days, end: told.end },
    recordings: { there: recordings.length, vouched: recordings.filter(vouched).length },
    submissions: { there: handedIn.length, vouched: handedIn.filter(vouched).length },
    decisions: books.decisions,
    archived: { there: archived.whole.size, alone: archived.alone },
    bytes: bytes + archived.bytes,
    findings,
  };
}

/** By path; null where there is no plain file in the folder, and no whole file in its archive that stands for it. */
async function hashesOf(
  folder: string,
  paths: ReadonlySet<string>,
  { whole }: Archived,
  tell: (done: number, total: number) => void,
) {
  const sizes = new Map<string, number | null>();
  for (const path of paths) sizes.set(path, await sizeOf(folder, path));
  const total = [...sizes.values()].reduce<number>((sum, size) => sum + (size ?? 0), 0);
  const hashes = new Map<string, string | null>();
  let bytes = 0;
  for (const [path, size] of sizes) {
    const hash = size === null ? null : await fileHash(join(folder, path)).catch(() => null);
    hashes.set(path, size === null ? (whole.get(path) ?? null) : hash);
    bytes += size ?? 0;
    tell(bytes, total);
  }
  return { hashes, bytes };
}

/** Null where there is no plain file, or a link leads out of the folder to it. */
async function sizeOf(folder: string, path: string): Promise<number | null> {
  try {
    const file = join(folder, insideFolder(path));
    const found = await lstat(file);
    return found.isFile() && !(await leadsOut(folder, file)) ? found.size : null;
  } catch {
    return null;
  }
}

function faultOf(
  path: string,
  sha256: string,
  hashes: ReadonlyMap<string, string | null>,
  as: string,
): readonly Finding[] {
  const found = hashes.get(path) ?? null;
  if (found === sha256) return [];
  const what = found === null ? 'is missing, or cannot be read' : 'has other bytes than it had';
  return [{ kind: 'fault', message: `${path} ${what}, ${as} (SHA-256 ${sha256}).` }];
}

/** How many are named one by one. */
const mostNamed = 5;

/** Files that nobody kept through Emberline: they are taken as they are. */
function unknown(paths: readonly string[], { kept }: Told, one: string, many: string): readonly Finding[] {
  const put = paths.filter((path) => !kept.has(path));
  if (put.length === 0) return [];
  const named = put.slice(0, mostNamed).join(', ');
  const rest = put.length > mostNamed ? ` and ${put.length - mostNamed} more` : '';
  const message =
    put.length === 1
      ? `1 ${one} is not in the trail, as where it was put there by hand: nothing vouches for its bytes (${named}).`
      : `${put.length} ${many} are not in the trail, as where they were put there by hand: nothing vouches for their bytes (${named}${rest}).`;
  return [{ kind: 'note', message }];
}

async function experimentNote(folder: string, { experiment }: Told): Promise<readonly Finding[]> {
  if (experiment === null) return [];
  const now = await fileHash(join(folder, experimentFileName)).catch(() => null);
  if (now === null || now === experiment) return [];
  const message = `${experimentFileName} was changed by hand since it was last saved from the page.`;
  return [{ kind: 'note', message }];
}

function aboutFiles({ files, linksOut, closed, cut }: FolderFiles): readonly Finding[] {
  const leftovers = files.filter(isLeftover);
  return [
    ...linksOut.map((path): Finding => {
      const message = `${path} is a link that leads out of the folder, or nowhere: what it stands for is in no copy. Put the file or folder itself there.`;
      return { kind: 'fault', message };
    }),
    ...closed.map((path): Finding => ({ kind: 'fault', message: `${path} cannot be listed.` })),
    ...(cut
      ? [
          {
            kind: 'fault',
            message: 'There are too many files, or folders too deep, to look at all.',
          } as const,
        ]
      : []),
    ...leftovers.map((path): Finding => {
      const message = `${path} was left by a program that was killed, or is being written now; it does no harm, and may be deleted while nothing runs.`;
      return { kind: 'note', message };
    }),
  ];
}
