import type { FileHandle } from 'node:fs/promises';
import { openTurns } from './in-turn.ts';

const inTurn = openTurns();

/**
 * Puts what was written to a large file on the disk for good, one file after another: a disk is no faster with a dozen
 * at once, and each that waits for it holds one of the few threads by which everything else here is read.
 *
 * @throws Error of the file system
 */
export function flush(file: FileHandle): Promise<void> {
  return inTurn('disk', () => file.datasync());
}
