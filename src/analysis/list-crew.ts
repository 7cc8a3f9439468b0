import type { Analyst, ListAnswer, ListOrder } from './list-work.ts';
import { threadCrew } from './thread-crew.ts';

/** Threads that analyze recordings for a list. */
export interface ListCrew {
  readonly analyst: Analyst;
  /** How many recordings it takes at once. */
  readonly hands: number;
  /** Ends the threads; what is in hand is not finished. */
  close(): Promise<void>;
}

/** Why there is nothing of a recording over which threads end. */
export const brokenOff =
  'Its analysis broke off twice: see whether the file is a recording at all, and whether this machine has memory to spare.';

/** Without a hash: it is not kept, and the recording is tried again when the folder is opened anew. */
const lost: ListAnswer = { sha256: null, result: { kind: 'unreadable', message: brokenOff } };

/**
 * Starts threads as they are needed. A recording in whose analysis a thread ends is given to a new one; after the second
 * time it is said to be unreadable.
 *
 * @param module that each thread runs: it takes a ListOrder as a message and answers with a ListAnswer
 * @param hands most recordings at once, > 0
 * @param longestRest after which a thread without work is ended, ms
 */
export function listCrew(module: URL, hands: number, longestRest?: number): ListCrew {
  const crew = threadCrew<ListOrder, ListAnswer>(module, { hands, ...(longestRest && { longestRest }) });
  return {
    hands,
    analyst: async (order) => (await crew.give(order)) ?? lost,
    close: () => crew.close(),
  };
}
