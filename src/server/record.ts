import { createHash } from 'node:crypto';
import type { Context } from 'hono';
import { StoreError, type Trail, type TrailEntry } from '../store/index.ts';
import { callerOf } from './access/caller.ts';
import { RequestProblem } from './problem.ts';

/**
 * Writes into the trail what a request did. Called once it is done, and before that is acknowledged.
 *
 * @throws RequestProblem where the trail cannot be written
 */
export async function record(trail: Trail, c: Context, entry: Omit<TrailEntry, 'who'>): Promise<void> {
  await trail.write({ who: callerOf(c), ...entry }).catch((error: unknown) => {
    if (!(error instanceof StoreError)) throw error;
    throw new RequestProblem(
      'cannot-write',
      'It was done and is kept, but the trail of this folder could not be written.',
      'Check the room on the disk and the folder trail, and look whether it is there before you do it again.',
    );
  });
}

/** The hash of what was kept, as the trail has it. */
export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
