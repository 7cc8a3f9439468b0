import { type Progress, type RecordingFile, readRecordingFile } from '../recording/files.ts';
import type { ReadOptions } from '../recording/index.ts';
import { fileHash } from '../store/index.ts';
import { isParquet } from './parquet-ends.ts';

/** What reads archives is only loaded where there is one. */
const archives = () => import('./archived-file.ts');

/**
 * Reads a recording from its text, plain or gzip, or from its file in an archive: the same recording either way, known
 * by the SHA-256 of its text. Memory does not grow with the file.
 *
 * @param path of the file
 * @param options what the caller knows better than the file; the name is the path if none is given
 * @param onProgress told now and then how many bytes of the text have been read
 * @param second module of the thread that helps with a large text; without it, one thread reads
 * @throws RecordingError
 */
export async function openRecordingFile(
  path: string,
  options: ReadOptions = {},
  onProgress?: Progress,
  second?: URL | null,
): Promise<RecordingFile> {
  if (!(await isParquet(path))) return readRecordingFile(path, options, onProgress, second);
  const { openArchived } = await archives();
  return openArchived(path, options, onProgress);
}

/**
 * SHA-256 of a recording's text, whether the text is there or its file in an archive.
 *
 * @throws RecordingError where that file is damaged; Error of the file system
 */
export async function recordingHash(path: string): Promise<string> {
  if (!(await isParquet(path))) return fileHash(path);
  const { archivedFacts } = await archives();
  return (await archivedFacts(path)).sha256;
}

/** The first bytes of a recording's text, kept in its file in an archive; null where the file is none of those. */
export async function archivedOpening(path: string): Promise<Uint8Array | null> {
  if (!(await isParquet(path))) return null;
  const { archivedFacts } = await archives();
  return (await archivedFacts(path)).opening.bytes;
}
