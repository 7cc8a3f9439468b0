/**
 * Does something in one window of a browser only; when that window is closed, another takes over. A browser keeps six
 * connections to a server of HTTP/1.1: if each window held one for itself, the seventh would wait for its first byte
 * until another is closed.
 *
 * @param name of the lock that the windows take turns by
 * @param hold does it until the signal ends it; `waited` says whether another window did before
 * @returns ends it, or the waiting for it
 */
export function inOneWindow(
  name: string,
  hold: (signal: AbortSignal, waited: boolean) => Promise<void>,
): () => void {
  const end = new AbortController();
  const { signal } = end;
  const takeTurns = async () => {
    const done = await navigator.locks.request(name, { ifAvailable: true }, async (lock) => {
      if (lock !== null) await hold(signal, false);
      return lock !== null;
    });
    if (!done) await navigator.locks.request(name, { signal }, () => hold(signal, true));
  };
  takeTurns().catch((error: unknown) => {
    if (!signal.aborted) throw error;
  });
  return () => end.abort();
}
