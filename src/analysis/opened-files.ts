import type { Trace } from '../sensing/index.ts';
import type { FileTraits, Marks } from '../store/index.ts';
import type { AnalyzedFile, OpenedFile } from './analyze-file.ts';
import { sameTraits } from './kept-result.ts';

/** A recording in memory, with what was made of it. */
export interface HeldFile {
  readonly opened: OpenedFile;
  /** When its file had been written last, ms since 1970 (UTC); null where that is not known. */
  readonly modified: number | null;
  /** The trace on a grid on which marks can be tried at once. */
  readonly coarse: Trace;
  /** Marks as found by the settings with this key. */
  found: { readonly key: string; readonly marks: Marks } | null;
  /** The last analysis, by its key. */
  analyzed: { readonly key: string; readonly file: AnalyzedFile } | null;
}

/** An opened recording by the traits and the key under which it was opened. */
interface Slot {
  readonly traits: FileTraits;
  readonly key: string;
  readonly held: Promise<HeldFile>;
}

/** The last few recordings that were looked at. */
export class OpenedFiles {
  readonly #most: number;
  readonly #slots = new Map<string, Slot>();

  /** @param most recordings to hold, > 0; each takes up to about 20 MB */
  constructor(most: number) {
    this.#most = most;
  }

  /**
   * A recording in memory, read if it is not there yet, has changed, or is wanted by another key.
   *
   * @throws whatever reading it throws
   */
  get(path: string, traits: FileTraits, key: string, read: () => Promise<HeldFile>): Promise<HeldFile> {
    const slot = this.#slots.get(path);
    this.#slots.delete(path);
    if (slot !== undefined && slot.key === key && sameTraits(slot.traits, traits)) {
      this.#slots.set(path, slot);
      return slot.held;
    }
    const held = read();
    const own = { traits, key, held };
    this.#slots.set(path, own);
    held.catch(() => {
      if (this.#slots.get(path) === own) this.#slots.delete(path);
    });
    for (const oldest of this.#slots.keys()) {
      if (this.#slots.size <= this.#most) break;
      this.#slots.delete(oldest);
    }
    return held;
  }
}
