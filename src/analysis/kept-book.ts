import { z } from 'zod';
import { type FileTraits, readResultsIndex, resultTraits, writeResultsIndex } from '../store/index.ts';
import {
  type KeptResult,
  keepResult,
  keptFrom,
  keptResult,
  sameTraits,
  traitsSchema,
  writtenFrom,
} from './kept-result.ts';

/** Counted up where the index means something else than before. */
const format = 'emberline results index 1';

const indexSchema = z.object({
  format: z.literal(format),
  results: z.array(z.object({ recording: z.string(), file: traitsSchema, kept: z.unknown() })).max(100_000),
});

/** Below so many results that the index lacks, reading each by itself is no trouble. */
const worthWriting = 32;

/** What the index says of one result. */
interface Page {
  /** Of the file that holds the result, when this was what it said. */
  readonly file: FileTraits;
  /** As it was read, to be judged when it is asked for. */
  readonly kept: unknown;
}

/** Where results are kept. */
export interface KeptResults {
  /** What is kept of a recording; null where there is nothing that can be used. */
  of(recording: string): Promise<KeptResult | null>;
  /** Keeps a result beside its recording. */
  keep(recording: string, kept: KeptResult): Promise<void>;
}

/** Results of a folder of which few are asked for, each in its own file. */
export function keptSingly(folder: string): KeptResults {
  return {
    of: (recording) => keptResult(folder, recording),
    keep: (recording, kept) => keepResult(folder, recording, kept),
  };
}

/**
 * What is kept of the recordings of a folder. Each result has a file of its own, which is what counts; beside them lies
 * an index that holds them all, so that a thousand are read at once. What the index says of a result is taken only while
 * the result's own file has the size and the times that it had then; without an index, or with one that is damaged or of
 * another version, the files are read one by one.
 */
export class KeptBook implements KeptResults {
  readonly #folder: string;
  readonly #pages: Map<string, Page>;
  /** Whose pages the index lacks. */
  readonly #fresh = new Set<string>();
  /** Whose pages were looked at. */
  readonly #asked = new Set<string>();

  private constructor(folder: string, pages: Map<string, Page>) {
    this.#folder = folder;
    this.#pages = pages;
  }

  /** Reads what is kept below a folder. */
  static async open(folder: string): Promise<KeptBook> {
    const read = indexSchema.safeParse(await readResultsIndex(folder));
    const results = read.success ? read.data.results : [];
    return new KeptBook(folder, new Map(results.map(({ recording, ...page }) => [recording, page])));
  }

  async of(recording: string): Promise<KeptResult | null> {
    const file = await resultTraits(this.#folder, recording);
    const page = this.#pages.get(recording);
    this.#asked.add(recording);
    if (file === null) {
      this.#pages.delete(recording);
      return null;
    }
    if (page !== undefined && sameTraits(page.file, file)) {
      const kept = keptFrom(page.kept);
      if (kept !== null) return kept;
    }
    const kept = await keptResult(this.#folder, recording);
    if (kept !== null) this.#note(recording, file, kept);
    return kept;
  }

  async keep(recording: string, kept: KeptResult): Promise<void> {
    await keepResult(this.#folder, recording, kept);
    // Whoever writes it anew before this look at it has a result of the same recording, whose bytes and settings are
    // asked about before any result counts.
    const file = await resultTraits(this.#folder, recording);
    if (file !== null) this.#note(recording, file, kept);
  }

  /** Writes the index anew where it lacks so much that this is worth it. */
  async settle(): Promise<void> {
    if (this.#fresh.size < worthWriting) return;
    this.#fresh.clear();
    for (const [recording, { file }] of this.#pages) {
      if (this.#asked.has(recording)) continue;
      const now = await resultTraits(this.#folder, recording);
      if (now === null || !sameTraits(now, file)) this.#pages.delete(recording);
    }
    const results = [...this.#pages].map(([recording, page]) => ({ recording, ...page }));
    await writeResultsIndex(this.#folder, { format, results });
  }

  #note(recording: string, file: FileTraits, kept: KeptResult): void {
    this.#pages.set(recording, { file, kept: writtenFrom(kept) });
    this.#asked.add(recording);
    this.#fresh.add(recording);
  }
}
