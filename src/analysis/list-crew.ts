import { Worker } from 'node:worker_threads';
import type { Analyst, ListAnswer, ListOrder } from './list-work.ts';

/** Threads that analyze recordings for a list. */
export interface ListCrew {
  readonly analyst: Analyst;
  /** How many recordings it takes at once. */
  readonly hands: number;
  /** Ends the threads; what is in hand is not finished. */
  close(): Promise<void>;
}

/** What is short-lived in a thread is let go of sooner than usual: many recordings make no thread large, MB. */
const youngest = 12;
/** A thread without work is ended after so long, ms: it is started again in less, and its memory is not small. */
const usualRest = 5000;

/** How often a recording is tried whose thread ends by itself. */
const tries = 2;

/** Without a hash: it is not kept, and the recording is tried again when the folder is opened anew. */
const lost: ListAnswer = {
  sha256: null,
  result: {
    kind: 'unreadable',
    message:
      'Its analysis broke off twice: see whether the file is a recording at all, and whether this machine has memory to spare.',
  },
};

/**
 * Starts threads as they are needed. A recording in whose analysis a thread ends is given to a new one; after the second
 * time it is said to be unreadable.
 *
 * @param module that each thread runs: it takes a ListOrder as a message and answers with a ListAnswer
 * @param hands most recordings at once, > 0
 * @param longestRest after which a thread without work is ended, ms
 */
export function listCrew(module: URL, hands: number, longestRest = usualRest): ListCrew {
  const idle: Worker[] = [];
  const endings = new Map<Worker, NodeJS.Timeout>();
  const all = new Set<Worker>();
  let closed = false;

  const start = (): Worker => {
    const worker = new Worker(module, {
      execArgv: [],
      resourceLimits: { maxYoungGenerationSizeMb: youngest },
    });
    all.add(worker);
    // Where nobody listens, an error of a thread ends the whole program; its exit says enough.
    worker.on('error', () => undefined);
    worker.once('exit', () => {
      all.delete(worker);
      const at = idle.indexOf(worker);
      if (at >= 0) idle.splice(at, 1);
      clearTimeout(endings.get(worker));
      endings.delete(worker);
    });
    return worker;
  };

  const rest = (worker: Worker): void => {
    idle.push(worker);
    const end = setTimeout(() => {
      endings.delete(worker);
      idle.splice(idle.indexOf(worker), 1);
      void worker.terminate();
    }, longestRest);
    endings.set(worker, end.unref());
  };

  /** Null where the thread ends by itself. */
  const once = (order: ListOrder): Promise<ListAnswer | null> => {
    const worker = idle.pop() ?? start();
    clearTimeout(endings.get(worker));
    endings.delete(worker);
    worker.ref();
    return new Promise((resolve) => {
      const ended = () => resolve(null);
      worker.once('exit', ended);
      worker.once('message', (answer: ListAnswer) => {
        worker.off('exit', ended);
        worker.unref();
        rest(worker);
        resolve(answer);
      });
      worker.postMessage(order);
    });
  };

  return {
    hands,
    analyst: async (order) => {
      for (let i = 0; i < tries && !closed; i++) {
        const answer = await once(order);
        if (answer !== null) return answer;
      }
      return lost;
    },
    close: async () => {
      closed = true;
      await Promise.all([...all].map((worker) => worker.terminate()));
    },
  };
}
