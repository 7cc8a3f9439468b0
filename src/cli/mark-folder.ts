import { createHash } from 'node:crypto';
import { mkdir, readFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import {
  type FolderAnalysis,
  knownRecordings,
  type MarkedGroup,
  openAnalysis,
  SubmissionDesk,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { sheetFile, sheetFormats, textTableCsv } from '../export/index.ts';
import {
  blankSheet,
  feedbackOf,
  feedbackTemplates,
  feedbackTexts,
  groupOf,
  type MarkedInput,
  marksTable,
  TemplateError,
} from '../marking/index.ts';
import {
  keepSubmission,
  readExperiment,
  readFeedbackFolder,
  StoreError,
  startFeedbackFolder,
  writeAgain,
} from '../store/index.ts';
import type { MarkOptions } from './mark-command.ts';
import { presentMarked, presentValues } from './mark-present.ts';
import { writeNewFile } from './new-file.ts';
import { tellTrail } from './own-trail.ts';
import { type ExitStatus, inkFor, printable, type Surroundings, startProgress } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `mark`.
 *
 * @param now ms since 1970
 * @throws OptionError, ExperimentFileError
 */
export async function markFolder(
  folder: string,
  options: MarkOptions,
  surroundings: Surroundings,
  now: number,
): Promise<ExitStatus> {
  const experiment = await readExperiment(folder);
  try {
    if (options.templates === true) return await startTexts(folder, surroundings);
    if (options.take !== undefined)
      return await take(folder, options.take, options, experiment, surroundings, now);
    const analysis = await openAnalysis(folder, { hands: 0 });
    try {
      if (options.sheets !== undefined) {
        return await writeSheets(options.sheets, options, experiment, analysis, surroundings);
      }
      return await mark(folder, options, experiment, analysis, surroundings);
    } finally {
      await analysis.close();
    }
  } catch (error) {
    if (error instanceof StoreError || error instanceof TemplateError) throw new OptionError(error.message);
    throw error;
  }
}

function say({ stdout, environment }: Surroundings, what: string, path: string): void {
  stdout.write(`${what}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
}

async function startTexts(folder: string, surroundings: Surroundings): Promise<ExitStatus> {
  const made = await startFeedbackFolder(
    folder,
    feedbackTexts.map(({ name, usual }) => [name, usual] as const),
  );
  for (const path of made) say(surroundings, 'text', join(folder, path));
  for (const { name, places } of feedbackTexts) {
    surroundings.stdout.write(`\n${name}.md is filled in at\n`);
    for (const [place, words] of Object.entries(places)) {
      surroundings.stdout.write(`  {${place}}${' '.repeat(Math.max(1, 13 - place.length))}${words}\n`);
    }
  }
  surroundings.stdout.write(
    '\nWords of your own on a slip go into slip-<code>.md; marks.csv names the codes.\n',
  );
  return 0;
}

async function take(
  folder: string,
  files: readonly string[],
  options: MarkOptions,
  experiment: Experiment,
  surroundings: Surroundings,
  now: number,
): Promise<ExitStatus> {
  const of = options.of === undefined ? null : groupOf(options.of, experiment);
  if (options.of !== undefined && of === null) {
    throw new OptionError(
      `${options.of} is no code of a group: use letters, digits, dots, hyphens, underscores`,
    );
  }
  for (const [i, file] of files.entries()) {
    const bytes = await readFile(file).catch(() => {
      throw new OptionError(`${file} cannot be read: check the path`);
    });
    const named = groupOf(basename(file).replace(/\.[^.]*$/, ''), experiment);
    const own = named !== null && Object.hasOwn(experiment.groups, named) ? named : null;
    // One moment each, so that their order stays.
    const at = new Date(now + i).toISOString();
    const path = await keepSubmission(folder, { name: basename(file), bytes, group: of ?? own, at });
    await tellTrail(folder, '', {
      deed: 'sheet-taken',
      about: path,
      sha256: createHash('sha256').update(bytes).digest('hex'),
      note: `handed over as ${basename(file)}`,
    });
    say(surroundings, 'taken', join(folder, path));
  }
  return 0;
}

async function writeSheets(
  out: string,
  { group: only, force }: MarkOptions,
  experiment: Experiment,
  analysis: FolderAnalysis,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const recordings = knownRecordings(analysis);
  const all = new Set([
    ...Object.keys(experiment.groups),
    ...recordings.flatMap(({ place }) => place.group ?? []),
  ]);
  const groups = [...all].filter((group) => only === undefined || group === only);
  if (groups.length === 0) throw new OptionError('there is no such group: take one of the experiment file');
  await mkdir(out, { recursive: true });
  for (const group of groups) {
    const own = recordings.filter(({ place }) => place.group === group);
    const table = blankSheet(group, own, experiment.marking.asked);
    for (const format of sheetFormats) {
      const path = join(out, `${group}.${format}`);
      await writeNewFile(path, await sheetFile(table, format), force === true);
    }
    say(surroundings, `${own.length} ${own.length === 1 ? 'row' : 'rows'}`, join(out, `${group}.csv, .xlsx`));
  }
  return 0;
}

async function mark(
  folder: string,
  options: MarkOptions,
  experiment: Experiment,
  analysis: FolderAnalysis,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const desk = new SubmissionDesk(analysis);
  const found = await desk.handedIn();
  const wanted = found.groups.filter(({ group }) => options.group === undefined || group === options.group);
  if (options.group !== undefined && wanted.length === 0) {
    throw new OptionError(`group ${options.group} has handed nothing in: take its sheet with --take`);
  }
  const templates = await readFeedbackFolder(folder);
  for (const fault of templates.faults) surroundings.stderr.write(`emberline: ${printable(fault)}\n`);
  const texts = feedbackTemplates(templates.texts);
  const total = wanted.reduce((sum, { rows }) => sum + rows.length, 0);
  const progress = await startProgress(surroundings, Math.max(total, 1), 'marking');
  let groups: readonly MarkedGroup[];
  try {
    groups = await desk.markAll(wanted, (done) => progress.update(done));
  } finally {
    progress.stop();
    desk.close();
  }
  const others = Object.keys(experiment.groups).filter(
    (one) => !found.groups.some(({ group }) => group === one),
  );
  if (options.out !== undefined) {
    const inputs = groups.map((group): MarkedInput => ({ ...group, experiment, file: group.file.path }));
    const files = new Map(inputs.map((input) => [`${input.group}.md`, feedbackOf(input, texts)]));
    if (options.group === undefined) {
      files.set('marks.csv', textTableCsv(marksTable(experiment, inputs, others)));
    }
    return writeOut(options.out, files, options.force === true, surroundings);
  }
  const { stdout, environment } = surroundings;
  if (options.json === true) {
    for (const group of groups) stdout.write(`${JSON.stringify(jsonOf(group))}\n`);
  } else {
    const ink = inkFor(stdout, environment);
    const shown = options.group === undefined ? others : [];
    const lines = presentMarked(folder, groups, found, shown, ink);
    const values =
      options.group === undefined ? [] : groups.flatMap((one) => presentValues(one, experiment, ink));
    stdout.write(`${[...lines, ...values].join('\n')}\n`);
  }
  return groups.some(needsALook) || found.unusable.length > 0 ? 1 : 0;
}

function needsALook({ marked, faults, missing }: MarkedGroup): boolean {
  return (
    faults.length > 0 ||
    missing.length > 0 ||
    marked.some(({ assessment, trouble }) => {
      return trouble !== null || assessment.values.some(({ state }) => state === 'outside');
    })
  );
}

async function writeOut(
  out: string,
  files: ReadonlyMap<string, string>,
  force: boolean,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { written, kept } = await writeAgain(out, files, force);
  for (const name of written) say(surroundings, 'written', join(out, name));
  for (const name of kept) say(surroundings, 'changed since, left as it is', join(out, name));
  if (kept.length > 0) surroundings.stdout.write('--force writes over what was changed.\n');
  return 0;
}

/** A group for a program. */
function jsonOf({ group, file, earlier, marked, missing, faults }: MarkedGroup) {
  return {
    group,
    file: file.path,
    handedIn: file.at,
    earlier,
    rows: marked.map(({ placed, assessment, trouble }) => ({
      recording: placed.recording,
      condition: placed.condition,
      note: placed.row.note,
      roster: placed.flags,
      trouble,
      values: assessment.values.map((value) => ({
        ...value,
        written: placed.row.values.find(({ quantity }) => quantity === value.quantity)?.written ?? null,
      })),
      explanations: assessment.explanations.map(({ part, codes, words, probability, explains }) => {
        return { part, codes, words, probability, explains };
      }),
      sentences: assessment.sentences,
    })),
    missing,
    faults,
  };
}
