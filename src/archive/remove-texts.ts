import { lstat, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { RecordingError } from '../recording/index.ts';
import { type ArchivedRecording, flushFolder, leadsOut } from '../store/index.ts';
import { ArchiveError } from './archive-error.ts';
import { holdArchived } from './check-archive.ts';

/** What became of a text that was to be removed. */
export interface Removal {
  readonly entry: ArchivedRecording;
  /** Why it was left; null where it is gone. */
  readonly why: string | null;
}

/**
 * Removes texts that are archived: each is held against its file once more, sample by sample, and only a text that is the
 * same, and has not changed meanwhile, is removed.
 *
 * @param folder of the experiment
 * @param root folder of the archive, inside it
 * @param tell told how many are done, of how many
 * @param gone told of each text that is removed, before the next one is looked at
 * @throws Error of the file system
 */
export async function removeTexts(
  folder: string,
  root: string,
  entries: readonly ArchivedRecording[],
  tell: (done: number, total: number) => void,
  gone: (entry: ArchivedRecording) => Promise<void>,
): Promise<Removal[]> {
  const removals: Removal[] = [];
  for (const entry of entries) {
    tell(removals.length, entries.length);
    const why = await removed(folder, root, entry);
    removals.push({ entry, why });
    if (why === null) await gone(entry);
  }
  tell(entries.length, entries.length);
  return removals;
}

async function removed(folder: string, root: string, entry: ArchivedRecording): Promise<string | null> {
  const text = join(folder, entry.recording);
  try {
    const before = await lstat(text).catch(() => null);
    if (before === null || !before.isFile() || (await leadsOut(folder, text))) {
      throw new ArchiveError('It is no plain file in the folder.', 'Look at it yourself.');
    }
    await holdArchived(folder, root, entry, true);
    const after = await lstat(text);
    const same = after.ino === before.ino && after.size === before.size && after.ctimeMs === before.ctimeMs;
    if (!same) throw new ArchiveError('It changed while it was looked at.', 'Archive it again.');
    await rm(text);
    await flushFolder(dirname(text));
    return null;
  } catch (error) {
    if (error instanceof RecordingError) return `${error.what} ${error.mend}`;
    if (error instanceof ArchiveError) return `${error.message} ${error.mend}`;
    throw error;
  }
}
