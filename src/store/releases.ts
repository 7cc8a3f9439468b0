import { join } from 'node:path';
import { z } from 'zod';
import type { Experiment } from '../experiment/index.ts';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { withFileLock } from './file-lock.ts';
import { firstFault, type JsonFile, readJsonFile } from './json-file.ts';
import { moment, signature } from './rig-withdrawal.ts';

const about =
  'Which sections may see their results, since when, and who said so. Nothing is ever taken out: of each section the last entry counts. A class without sections has entries with the section null.';

/** More than anybody decides in a term. */
const mostReleases = 10_000;

const release = z.strictObject({
  /** Code of the section; null for a class, or groups, without one. */
  section: z.string().min(1).max(100).nullable(),
  at: moment,
  who: signature,
  /** False takes a release back. */
  released: z.boolean(),
});

const releaseFile = z.strictObject({
  about: z.string().max(1000),
  releases: z.array(release).max(mostReleases),
});

/** That results of a section may be seen by its groups, or may not any more. */
export type Release = Readonly<z.output<typeof release>>;

const kindOfFile: JsonFile<z.output<typeof releaseFile>> = {
  schema: releaseFile,
  largest: 4,
  anew: 'no results are released then',
  fail: (message, mend) => new StoreError(`${message}; ${mend}`),
};

/** Path of the file that holds the releases. */
function releasesPath(folder: string): string {
  return join(folder, 'releases.json');
}

/**
 * What was released and taken back, the first first.
 *
 * @throws StoreError where the file cannot be read
 */
export async function readReleases(folder: string): Promise<readonly Release[]> {
  return (await readJsonFile(folder, releasesPath(folder), kindOfFile))?.releases ?? [];
}

/**
 * Adds a release, or that one is taken back. Writers at the same time wait for each other, and none loses anything.
 *
 * @returns all of them, this one at the end
 * @throws StoreError where the file cannot be read or written, or the entry is not complete
 */
export async function appendRelease(folder: string, added: Release): Promise<readonly Release[]> {
  const path = releasesPath(folder);
  try {
    return await withFileLock(path, async () => {
      const releases = [...(await readReleases(folder)), { ...added, who: added.who.trim() }];
      const read = releaseFile.safeParse({ about, releases });
      if (!read.success) throw new StoreError(`The release is not complete: ${firstFault(read.error)}.`);
      await writeAtomically(path, `${JSON.stringify(read.data, null, 2)}\n`);
      return read.data.releases;
    });
  } catch (error) {
    if (error instanceof StoreError) throw error;
    throw new StoreError(`${path}: cannot be written (${reason(error)}); check the folder`);
  }
}

/** What results are released by: the sections, and null where some groups are in none, or there are no sections. */
export function releaseSections({
  sections,
  groups,
}: Pick<Experiment, 'sections' | 'groups'>): readonly (string | null)[] {
  const without = sections.length === 0 || Object.values(groups).some(({ section }) => section === undefined);
  return without ? [...sections, null] : sections;
}

/** The entry that counts for a section; null where nobody has said anything about it. */
export function standingRelease(releases: readonly Release[], section: string | null): Release | null {
  return releases.findLast((one) => one.section === section) ?? null;
}

/**
 * Whether the groups of a section may see their results.
 *
 * @param section null for a class without sections, or a group that is in none
 */
export function isReleased(releases: readonly Release[], section: string | null): boolean {
  return standingRelease(releases, section)?.released === true;
}
