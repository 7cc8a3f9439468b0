import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { type ArchivedRecording, archiveFolder, readArchive } from './archive-index.ts';
import { StoreError } from './experiment-save.ts';
import { fileHash } from './file-hash.ts';
import type { Finding } from './finding.ts';
import { leadsOut } from './leads-out.ts';

/** The archive of a folder, held against its index. */
export interface Archived {
  /** SHA-256 of the texts whose files in the archive are as they were when they were held against them, by recording. */
  readonly whole: ReadonlyMap<string, string>;
  /** How many of them stand for a text that is gone. */
  readonly alone: number;
  /** Bytes that were read. */
  readonly bytes: number;
  readonly findings: readonly Finding[];
}

/**
 * Holds the files of an archive against its index, which says what each of them was when every sample of it was the same
 * as in its text.
 *
 * @param folder of the experiment
 */
export async function verifyArchive(folder: string): Promise<Archived> {
  const root = join(folder, archiveFolder);
  const findings: Finding[] = [];
  const whole = new Map<string, string>();
  let bytes = 0;
  let alone = 0;
  const entries = await readArchive(root).catch((error: unknown) => {
    if (!(error instanceof StoreError)) throw error;
    findings.push({ kind: 'fault', message: `${error.message.replaceAll(`${folder}/`, '')}.` });
    return [];
  });
  for (const entry of entries) {
    const hasText = await isPlain(join(folder, entry.recording));
    const hash = await hashIn(folder, join(root, entry.file));
    if (hash === entry.parquet.sha256) {
      whole.set(entry.recording, entry.sha256);
      bytes += entry.parquet.bytes;
      if (!hasText) alone += 1;
    } else findings.push(broken(entry, hash, hasText));
  }
  return { whole, alone, bytes, findings };
}

function broken(
  { recording, file, parquet }: ArchivedRecording,
  hash: string | null,
  hasText: boolean,
): Finding {
  const what = hash === null ? 'is missing, or cannot be read' : 'has other bytes than it had';
  const path = `${archiveFolder}/${file}`;
  return hasText
    ? { kind: 'note', message: `${path} ${what}; the text ${recording} is there: archive it again.` }
    : {
        kind: 'fault',
        message: `${path} ${what}, as all that is left of ${recording} (SHA-256 ${parquet.sha256}).`,
      };
}

async function isPlain(path: string): Promise<boolean> {
  return (await lstat(path).catch(() => null))?.isFile() === true;
}

/** Null where there is no plain file, or a link leads out of the folder to it. */
async function hashIn(folder: string, path: string): Promise<string | null> {
  if (!(await isPlain(path)) || (await leadsOut(folder, path))) return null;
  return fileHash(path).catch(() => null);
}
