import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { keptTrials } from '../analysis/index.ts';
import {
  type ArchiveOutcome,
  archiveRecordings,
  checkArchive,
  type Removal,
  removeTexts,
} from '../archive/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { archivedTable } from '../query/index.ts';
import {
  type ArchivedRecording,
  archiveFolder,
  leadsOut,
  readArchive,
  readExperiment,
  readReferenceRuns,
  readRigChecks,
  termOf,
  writeAtomically,
} from '../store/index.ts';
import type { ArchiveOptions } from './archive-command.ts';
import { archiveAsJson, presentArchive, presentCheck, presentRemovable } from './archive-present.ts';
import { tellTrail } from './own-trail.ts';
import { type ExitStatus, inkFor, type Progress, type Surroundings, startProgress } from './terminal.ts';
import { OptionError } from './wishes.ts';

/** What the command needs of the world. */
export interface ArchiveCircumstances {
  /** ms since 1970 (UTC). */
  readonly now: () => number;
  /** Asks a question that only yes affirms. */
  readonly ask: (question: string) => Promise<boolean>;
}

/**
 * The command `archive`.
 *
 * @returns 1 where a text could not be archived or removed, or the check found something
 * @throws OptionError; Error where experiment file or archive cannot be used
 */
export async function archive(
  folder: string,
  options: ArchiveOptions,
  surroundings: Surroundings,
  circumstances: ArchiveCircumstances,
): Promise<ExitStatus> {
  refuseOdd(options);
  const root = options.out ?? join(folder, archiveFolder);
  if (options.check) return checked(folder, root, options, surroundings);
  const experiment = await readExperiment(folder);
  if (options.out === undefined) await refuseLink(folder, root);
  const outcomes = await withBar(surroundings, 'archiving', (tell) => {
    return archiveRecordings(folder, experiment, root, {
      now: circumstances.now,
      tell: (_recording, number, of, done) => tell(number - 1 + done, of),
      archived: (entry) => toldTrail(folder, options, 'recording-archived', entry),
    });
  });
  await writeTable(folder, experiment, root);
  const removals = options.remove
    ? await removed(folder, root, outcomes, options, surroundings, circumstances)
    : [];
  const { stdout, environment } = surroundings;
  const shown = { folder, root, outcomes, removals, inside: options.out === undefined };
  stdout.write(
    options.json
      ? `${JSON.stringify(archiveAsJson(shown))}\n`
      : `${presentArchive(shown, inkFor(stdout, environment)).join('\n')}\n`,
  );
  const refused =
    outcomes.some(({ state }) => state === 'refused') || removals.some(({ why }) => why !== null);
  return refused ? 1 : 0;
}

function refuseOdd({ out, check, remove, evenRepaired, yes, json }: ArchiveOptions): void {
  if (remove && out !== undefined) {
    throw new OptionError(
      'texts are removed only where the archive is in the folder itself, so that their recordings stay in the list: leave out --out or --remove',
    );
  }
  if (remove && check) throw new OptionError('--check changes nothing: leave out --remove');
  if (!remove && (evenRepaired || yes)) throw new OptionError('--even-repaired and --yes belong to --remove');
  if (remove && json && !yes) throw new OptionError('with --json nobody is asked: give --yes as well');
}

async function checked(
  folder: string,
  root: string,
  { json }: ArchiveOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const found = await withBar(surroundings, 'checking', (tell) => checkArchive(folder, root, tell));
  const { stdout, environment } = surroundings;
  stdout.write(
    json
      ? `${JSON.stringify({
          folder,
          archive: root,
          recordings: found.map(({ entry, text, fault }) => ({ ...entry, text, fault })),
        })}\n`
      : `${presentCheck(root, found, inkFor(stdout, environment)).join('\n')}\n`,
  );
  return found.some(({ fault }) => fault !== null) ? 1 : 0;
}

async function removed(
  folder: string,
  root: string,
  outcomes: readonly ArchiveOutcome[],
  options: ArchiveOptions,
  surroundings: Surroundings,
  { ask }: ArchiveCircumstances,
): Promise<Removal[]> {
  const { evenRepaired, yes } = options;
  const entries: ArchivedRecording[] = [];
  for (const outcome of outcomes) {
    if (outcome.state === 'refused' || (outcome.entry.repairs.length > 0 && !evenRepaired)) continue;
    const text = await lstat(join(folder, outcome.entry.recording)).catch(() => null);
    if (text !== null) entries.push(outcome.entry);
  }
  if (entries.length === 0) return [];
  if (!yes) {
    surroundings.stderr.write(`${presentRemovable(entries).join('\n')}\n`);
    const texts = entries.length === 1 ? 'this text' : `these ${entries.length} texts`;
    if (!(await ask(`Remove ${texts}?`))) return [];
  }
  return withBar(surroundings, 'removing', (tell) => {
    return removeTexts(folder, root, entries, tell, (entry) =>
      toldTrail(folder, options, 'text-removed', entry),
    );
  });
}

/** Writes into the trail of the experiment what became of a text, with the file that holds its samples. */
async function toldTrail(
  folder: string,
  { who = '', out }: ArchiveOptions,
  deed: 'recording-archived' | 'text-removed',
  { recording, sha256, file, parquet }: ArchivedRecording,
): Promise<void> {
  const where = out === undefined ? `${archiveFolder}/${file}` : `${file} in an archive elsewhere`;
  const note = `its samples are in ${where}, SHA-256 ${parquet.sha256}`;
  await tellTrail(folder, who, { deed, about: recording, sha256, note });
}

/** The table of all recordings that are archived, beside their samples. */
async function writeTable(folder: string, experiment: Experiment, root: string): Promise<void> {
  const term = {
    term: termOf(folder, experiment),
    experiment,
    trials: await keptTrials(folder, experiment),
    checks: await readRigChecks(folder),
    references: await readReferenceRuns(folder),
  };
  const bytes = await archivedTable(term, await readArchive(root));
  const path = join(root, 'recordings', 'recordings.parquet');
  await refuseLink(root, path);
  await writeAtomically(path, bytes);
}

/** @throws Error where a link leads elsewhere */
async function refuseLink(folder: string, path: string): Promise<void> {
  if (!(await leadsOut(folder, path))) return;
  throw new Error(`${path}: is behind a link that leads out of ${folder}; put the folder itself there`);
}

/** Does some work with a bar from the first step on. */
async function withBar<T>(
  surroundings: Surroundings,
  label: string,
  work: (tell: (done: number, total: number) => void) => Promise<T>,
): Promise<T> {
  const bars: Promise<Progress>[] = [];
  try {
    return await work((done, total) => {
      if (bars.length === 0) bars.push(startProgress(surroundings, Math.max(1, total), label));
      for (const bar of bars) void bar.then(({ update }) => update(done));
    });
  } finally {
    for (const bar of bars) (await bar).stop();
  }
}
