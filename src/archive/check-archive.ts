import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { RecordingError } from '../recording/index.ts';
import { type ArchivedRecording, fileHash, readArchive } from '../store/index.ts';
import { ArchiveError } from './archive-error.ts';
import { openArchivedFile } from './archived-file.ts';
import { sameSamples } from './same-samples.ts';

/** How an archived recording stands. */
export interface CheckedRecording {
  readonly entry: ArchivedRecording;
  /** Whether its text is still there, and was held against the file. */
  readonly text: boolean;
  /** What is wrong, with what to do; null where nothing is. */
  readonly fault: string | null;
}

/**
 * Reads every file of an archive to its end. Where the text is there, each sample is held against it; else the file has
 * to be, byte for byte, the one that was, and to read as the recording that it was.
 *
 * @param folder of the experiment
 * @param root folder of the archive
 * @param tell told how many are done, of how many
 * @throws StoreError where the index of the archive cannot be read
 */
export async function checkArchive(
  folder: string,
  root: string,
  tell: (done: number, total: number) => void,
): Promise<CheckedRecording[]> {
  const entries = await readArchive(root);
  const checked: CheckedRecording[] = [];
  for (const entry of entries) {
    tell(checked.length, entries.length);
    const there = await stat(join(folder, entry.recording)).catch(() => null);
    checked.push({ entry, text: there !== null, fault: await faultOf(folder, root, entry, there !== null) });
  }
  tell(entries.length, entries.length);
  return checked;
}

async function faultOf(
  folder: string,
  root: string,
  entry: ArchivedRecording,
  hasText: boolean,
): Promise<string | null> {
  try {
    await holdArchived(folder, root, entry, hasText);
    return null;
  } catch (error) {
    if (error instanceof RecordingError) return `${error.what} ${error.mend}`;
    if (error instanceof ArchiveError) return `${error.message} ${error.mend}`;
    throw error;
  }
}

/**
 * Holds the file of an archived recording against what is known of it, and against its text.
 *
 * @param hasText whether the text is there
 * @throws ArchiveError, RecordingError where something is not as it was
 */
export async function holdArchived(
  folder: string,
  root: string,
  entry: ArchivedRecording,
  hasText: boolean,
): Promise<void> {
  const path = join(root, entry.file);
  const hash = await fileHash(path).catch(() => null);
  if (hash !== entry.parquet.sha256) {
    const what = hash === null ? 'is missing, or cannot be read' : 'has other bytes than it had';
    throw new ArchiveError(
      `The file ${entry.file} ${what}.`,
      'Take it from a backup, or archive the text again.',
    );
  }
  const read = hasText
    ? await sameSamples(join(folder, entry.recording), path, entry.recording)
    : await openArchivedFile(path, entry.recording);
  if (read.sha256 !== entry.sha256 || read.samples !== entry.samples) {
    throw new ArchiveError(
      `The file ${entry.file} is of another text than the index of the archive says.`,
      'Take the archive from a backup, or archive the text again.',
    );
  }
}
