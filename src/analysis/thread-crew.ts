import { Worker } from 'node:worker_threads';

/** Threads that take orders, a few at once. */
export interface ThreadCrew<Order, Answer> {
  /** How many orders it takes at once. */
  readonly hands: number;
  /** The answer to an order; null where the thread ended twice over it, or the crew is closed. */
  give(order: Order): Promise<Answer | null>;
  /** Ends the threads; what is in hand is not finished. */
  close(): Promise<void>;
}

/** How threads are run. */
export interface ThreadCrewSettings {
  /** Most orders at once, > 0. */
  readonly hands: number;
  /** After which a thread without work is ended, ms. */
  readonly longestRest?: number;
  /** What each thread is given at its start. Plain data. */
  readonly data?: unknown;
}

/** What is short-lived in a thread is let go of sooner than usual: many recordings make no thread large, MB. */
const youngest = 12;
/** A thread without work is ended after so long, ms: it is started again in less, and its memory is not small. */
const usualRest = 5000;

/** How often an order is tried whose thread ends by itself. */
const tries = 2;

/**
 * Starts threads as they are needed. An order over which a thread ends is given to a new one, once.
 *
 * @param module that each thread runs: it takes an order as a message and answers with one
 */
export function threadCrew<Order, Answer>(
  module: URL,
  { hands, longestRest = usualRest, data }: ThreadCrewSettings,
): ThreadCrew<Order, Answer> {
  const idle: Worker[] = [];
  const endings = new Map<Worker, NodeJS.Timeout>();
  const all = new Set<Worker>();
  let closed = false;

  const start = (): Worker => {
    const worker = new Worker(module, {
      execArgv: [],
      workerData: data,
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
  const once = (order: Order): Promise<Answer | null> => {
    const worker = idle.pop() ?? start();
    clearTimeout(endings.get(worker));
    endings.delete(worker);
    worker.ref();
    return new Promise((resolve) => {
      const ended = () => resolve(null);
      worker.once('exit', ended);
      worker.once('message', (answer: Answer) => {
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
    give: async (order) => {
      for (let i = 0; i < tries && !closed; i++) {
        const answer = await once(order);
        if (answer !== null) return answer;
      }
      return null;
    },
    close: async () => {
      closed = true;
      await Promise.all([...all].map((worker) => worker.terminate()));
    },
  };
}
