import { openTrail, type TrailEntry } from '../store/index.ts';

/**
 * Writes into the trail of a folder what a command did there.
 *
 * @param name who did it, as given on the command line; empty where the command does not ask
 * @throws StoreError where the trail cannot be written
 */
export async function tellTrail(folder: string, name: string, entry: Omit<TrailEntry, 'who'>): Promise<void> {
  const trail = openTrail(folder, { now: () => Date.now() });
  await trail.write({ who: { role: 'command line', group: null, label: name }, ...entry });
}
