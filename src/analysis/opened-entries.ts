import { type Marks, traitsOf } from '../store/index.ts';
import { type AnalyzedFile, analyzeOpened, openRecording } from './analyze-file.ts';
import { marksUsed } from './detail.ts';
import { essenceOf } from './essence.ts';
import type { FolderEntry } from './folder-entry.ts';
import { UnknownRecordingError } from './folder-errors.ts';
import { marksOf } from './found-marks.ts';
import { resultKey } from './kept-result.ts';
import { type HeldFile, OpenedFiles } from './opened-files.ts';
import { coarseTrace } from './preview.ts';

/** A recording with its file in memory and its analysis by what counts now. */
export interface AnalyzedEntry {
  readonly entry: FolderEntry;
  readonly held: HeldFile;
  readonly analyzed: AnalyzedFile;
  /** Whether its result is news to the list. */
  readonly isNews: boolean;
}

/** The few recordings of a folder that somebody looks at, kept in memory while their files are as they were. */
export class OpenedEntries {
  readonly #files: OpenedFiles;

  /** @param most recordings in memory at once */
  constructor(most: number) {
    this.#files = new OpenedFiles(most);
  }

  /** The recording in memory; its bytes are known then. */
  async held(entry: FolderEntry): Promise<HeldFile> {
    if (await entry.isElsewhere()) throw new UnknownRecordingError(entry.placed.path);
    const known = await traitsOf(entry.file);
    const traits = known ?? { size: 0, modified: 0, changed: 0 };
    await entry.knowBytes(traits);
    const { read, chain, file } = entry;
    const key = resultKey({ read, chain }, null);
    const held = await this.#files.get(entry.placed.path, traits, key, async () => {
      const opened = await openRecording(file, { read, chain, zero: null });
      const before = entry.result?.kind === 'analyzed' ? entry.result.essence.timeConstant : null;
      const coarse = coarseTrace(opened.trace, before?.value ?? null);
      return { opened, modified: known?.modified ?? null, coarse, found: null, analyzed: null };
    });
    entry.identify(held.opened.recording.sha256);
    return held;
  }

  /** Analyzes the recording where that is not done, and lets its list entry know. */
  async analyzed(entry: FolderEntry): Promise<AnalyzedEntry> {
    const held = await this.held(entry);
    const { key, settings } = entry;
    const before = held.analyzed?.key === key ? held.analyzed.file : null;
    const analyzed = before ?? (await analyzeOpened(held.opened, settings));
    held.analyzed = { key, file: analyzed };
    // What is still being written is another recording a moment later: it counts when it rests.
    const isNews = !entry.writing && (before === null || entry.result === null);
    if (isNews) {
      const traits = await traitsOf(entry.file);
      const { sha256 } = analyzed.recording;
      await entry.take(traits, sha256, key, { kind: 'analyzed', essence: essenceOf(analyzed) });
    }
    return { entry, held, analyzed, isNews };
  }
}

/** Marks as found without a person's, remembered with the recording. */
export function foundMarks(entry: FolderEntry, held: HeldFile): Marks {
  const key = resultKey(entry, entry.ownSettings);
  if (held.found?.key === key) return held.found.marks;
  const marks =
    held.analyzed?.key === key
      ? marksUsed(held.analyzed.file)
      : marksOf(held.opened.trace, entry.ownSettings);
  held.found = { key, marks };
  return marks;
}
