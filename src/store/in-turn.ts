/** Work that is done one after another for the same key, side by side for others. */
export type InTurn = <T>(key: string, work: () => Promise<T>) => Promise<T>;

/** A set of queues within this process. */
export function openTurns(): InTurn {
  const queues = new Map<string, Promise<unknown>>();
  return async (key, work) => {
    const before = queues.get(key) ?? Promise.resolve();
    const own = before.then(work, work);
    queues.set(key, own);
    try {
      return await own;
    } finally {
      if (queues.get(key) === own) queues.delete(key);
    }
  };
}
