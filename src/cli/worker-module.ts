import { existsSync } from 'node:fs';

/**
 * What a thread that analyzes recordings runs; null where the program runs from its source: Node 20 takes no TypeScript,
 * and what was built some time ago may analyze otherwise.
 */
export function workerModule(): URL | null {
  const beside = new URL('list-worker.js', import.meta.url);
  return existsSync(beside) ? beside : null;
}
