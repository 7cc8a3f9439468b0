import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';

/** Most threads that analyze: each holds a recording in memory. */
const mostHands = 8;

/** How many threads analyze at once on this machine. */
export function usualHands(): number {
  return Math.min(availableParallelism(), mostHands);
}

/**
 * What a thread that analyzes recordings runs; null where the program runs from its source: Node 20 takes no TypeScript,
 * and what was built some time ago may analyze otherwise.
 */
export function workerModule(): URL | null {
  return besideProgram('list-worker.js');
}

/** The same for the command `analyze`, whose threads write what is to be printed. */
export function analyzeModule(): URL | null {
  return besideProgram('analyze-worker.js');
}

/** What a thread runs that tells everything of recordings; null as above. */
export function detailModule(): URL | null {
  return besideProgram('detail-worker.js');
}

/** What a process that makes documents and exports runs; null as above. */
export function downloadModule(): URL | null {
  return besideProgram('download-process.js');
}

/** What the thread runs that helps to read a large file; null as above. */
export function secondThreadModule(): URL | null {
  return besideProgram('second-thread.js');
}

function besideProgram(name: string): URL | null {
  const beside = new URL(name, import.meta.url);
  return existsSync(beside) ? beside : null;
}
