import {
  appendRelease,
  readExperiment,
  readReleases,
  releaseSections,
  standingRelease,
} from '../store/index.ts';
import { tellTrail } from './own-trail.ts';
import type { ReleaseOptions } from './release-command.ts';
import { type ExitStatus, printable, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `release`.
 *
 * @param now ms since 1970 (UTC)
 * @throws Error where the experiment file, the releases or an option cannot be used
 */
export async function releaseResults(
  folder: string,
  options: ReleaseOptions,
  { stdout }: Surroundings,
  now: number,
): Promise<ExitStatus> {
  const { section, all, withdraw, who = '', json } = options;
  const sections = releaseSections(await readExperiment(folder));
  if (section !== undefined || all === true) {
    const wanted = chosen(section, all === true, sections);
    if (who.trim() === '') throw new OptionError('--who is missing: say who releases the results');
    const released = withdraw !== true;
    await appendRelease(folder, { section: wanted, at: new Date(now).toISOString(), who, released });
    await tellTrail(folder, who, {
      deed: released ? 'results-released' : 'results-withdrawn',
      about: 'releases.json',
      note: wanted === null ? 'groups without a section' : `section ${wanted}`,
    });
  } else if (withdraw === true || who !== '') {
    throw new OptionError('--withdraw and --who belong to a section: give --section <code> or --all');
  }
  const releases = await readReleases(folder);
  const standing = sections.map((one) => ({ section: one, ...told(standingRelease(releases, one)) }));
  if (json) stdout.write(`${JSON.stringify({ sections: standing })}\n`);
  else {
    for (const one of standing) {
      const name = one.section === null ? 'groups without a section' : `section ${one.section}`;
      const state = one.released ? 'released since' : one.at === null ? 'not released' : 'taken back';
      const when = one.at === null ? '' : ` ${one.at}, by ${one.who}`;
      stdout.write(`${printable(`${name}: ${state}${when}`)}\n`);
    }
  }
  return 0;
}

function told(last: ReturnType<typeof standingRelease>) {
  return { released: last?.released ?? false, at: last?.at ?? null, who: last?.who ?? null };
}

function chosen(
  section: string | undefined,
  all: boolean,
  sections: readonly (string | null)[],
): string | null {
  if (section !== undefined && all) throw new OptionError('--section and --all: give one of them');
  const wanted = section ?? null;
  if (sections.includes(wanted)) return wanted;
  if (wanted === null)
    throw new OptionError('--all: every group is in a section here; give --section <code>');
  const known = sections.filter((one) => one !== null).join(', ');
  throw new OptionError(
    known === ''
      ? '--section: this class has no sections; give --all'
      : `--section: there is no section ${wanted}; take one of ${known}`,
  );
}
