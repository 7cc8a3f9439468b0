import { setImmediate as nextTurn } from 'node:timers/promises';
import type { FolderEntry } from './folder-entry.ts';
import type { Analyst } from './list-work.ts';

/** What is worked on, and who is told. */
export interface BackgroundOrders {
  readonly analyst: Analyst;
  /** How many recordings to work on at once; with 0 nothing is done in the background. */
  readonly hands: number;
  /** The recordings as they are now, the first first. */
  readonly entries: () => Iterable<FolderEntry>;
  /** Told of each recording that is done. */
  readonly onDone: (entry: FolderEntry) => void;
}

/** Analyzes the recordings that wait, a few at once, until none does. */
export class BackgroundWork {
  readonly #orders: BackgroundOrders;
  readonly #inHand = new Set<FolderEntry>();
  #working: Promise<void> | null = null;
  #closed = false;

  constructor(orders: BackgroundOrders) {
    this.#orders = orders;
  }

  /** Begins, or goes on, if something waits. */
  go(): void {
    const { hands } = this.#orders;
    if (this.#working !== null || this.#closed || hands === 0) return;
    this.#working = Promise.all(Array.from({ length: hands }, () => this.#workThrough()))
      .then(() => undefined)
      .finally(() => {
        this.#working = null;
        // The folder may have been read again while the last recording was in hand.
        if (this.#next() !== undefined) this.go();
      });
  }

  /** Comes when nothing waits any more. */
  async settled(): Promise<void> {
    while (this.#working !== null) await this.#working;
  }

  /** Ends after the recordings that are in hand. */
  async close(): Promise<void> {
    this.#closed = true;
    await this.settled();
  }

  async #workThrough(): Promise<void> {
    const { analyst, onDone } = this.#orders;
    for (let entry = this.#next(); entry !== undefined && !this.#closed; entry = this.#next()) {
      this.#inHand.add(entry);
      const taken = entry;
      await entry.analyze(analyst).finally(() => this.#inHand.delete(taken));
      onDone(entry);
      await nextTurn();
    }
  }

  #next(): FolderEntry | undefined {
    for (const entry of this.#orders.entries()) {
      if (entry.waits && !this.#inHand.has(entry)) return entry;
    }
    return undefined;
  }
}
