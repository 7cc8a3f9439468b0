import { join } from 'node:path';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { withFileLock } from './file-lock.ts';
import { openDay, trailFolder } from './trail-file.ts';
import { lineOf, type TrailEntry } from './trail-line.ts';

/** Who did what in an experiment folder, as files that a person can read. */
export interface Trail {
  /**
   * Writes down what was done. It lasts through a kill and a loss of power from then on; the deed is acknowledged after.
   *
   * @throws StoreError where it cannot be written
   */
  write(entry: TrailEntry): Promise<void>;
}

interface Waiting {
  readonly entry: TrailEntry;
  /** ms since 1970 */
  readonly at: number;
  readonly written: () => void;
  readonly failed: (error: unknown) => void;
}

/**
 * Opens the trail of an experiment folder: one file a day (UTC) below `trail/`, a line a deed. Many who write at once
 * share one flush of the disk; other processes that write wait for their turn.
 */
export function openTrail(folder: string, clock: { now(): number }): Trail {
  const waiting: Waiting[] = [];
  let running = false;
  const run = async () => {
    running = true;
    while (waiting.length > 0) {
      let batch: readonly Waiting[] = [];
      try {
        await withFileLock(join(folder, trailFolder, '.trail'), async () => {
          // Whoever came while others were writing goes along.
          batch = waiting.splice(0);
          await append(folder, batch);
        });
        for (const { written } of batch) written();
      } catch (error) {
        const refused = new StoreError(`The trail below trail/ cannot be written (${reason(error)}).`);
        for (const { failed } of batch.length > 0 ? batch : waiting.splice(0)) failed(refused);
      }
    }
    running = false;
  };
  return {
    write: (entry) => {
      return new Promise((written, failed) => {
        waiting.push({ entry, at: clock.now(), written, failed });
        if (!running) void run();
      });
    },
  };
}

async function append(folder: string, batch: readonly Waiting[]): Promise<void> {
  const times = batch.map(({ at }) => new Date(at).toISOString());
  const day = await openDay(folder, (times.at(-1) ?? '').slice(0, 10));
  try {
    const all = batch.map(({ entry }, i) => ({ entry, time: times[i] ?? '' }));
    const mended = { entry: mending(day.torn), time: times[0] ?? '' };
    let { number, chain } = day.end;
    const lines = (day.torn === '' ? all : [mended, ...all]).map(({ entry, time }) => {
      number += 1;
      const line = lineOf(entry, number, time, chain);
      chain = line.chain;
      return line.text;
    });
    await day.append(lines);
  } finally {
    await day.close();
  }
}

/** What was torn was acknowledged to nobody; it is kept all the same, for it may tell what was under way. */
function mending(torn: string): TrailEntry {
  return {
    who: { role: 'server', group: null, label: '' },
    deed: 'trail-mended',
    note: `a program was killed while it wrote: ${torn}`,
  };
}
