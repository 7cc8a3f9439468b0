import { join } from 'node:path';
import type { Experiment } from '../experiment/index.ts';
import {
  groupSheets,
  handedIn,
  type KeyedRecording,
  keyedRecording,
  type PracticeRecording,
  type PracticeSet,
  practiceKey,
  practiceSet,
  practiceTask,
  recordingBytes,
  simulateRecording,
} from '../practice/index.ts';
import {
  experimentCopy,
  openPracticeFolder,
  type PracticeFolder,
  readExperimentFile,
  readPassphrase,
  sealText,
  usualKeyPath,
} from '../store/index.ts';
import { version } from '../version.ts';
import { showAnswers } from './practice-answers.ts';
import type { PracticeCommandOptions } from './practice-command.ts';
import { type MadePractice, practiceAsJson, presentPractice } from './practice-present.ts';
import { practiceWishes } from './practice-wishes.ts';
import { type ExitStatus, inkFor, type Surroundings, startProgress } from './terminal.ts';
import { OptionError } from './wishes.ts';

/**
 * The command `practice`: makes a set, or shows its key.
 *
 * @throws Error where the experiment file, an option or the disk does not allow it; then nothing is left behind
 */
export async function practice(
  folder: string | undefined,
  options: PracticeCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const passphrase = await passphraseOf(options, surroundings);
  if (options.answers !== undefined) {
    return showAnswers(folder, options.answers, passphrase, options.json ?? false, surroundings);
  }
  if (folder === undefined) {
    throw new OptionError('practice: name the folder that holds experiment.yaml, or give --answers <key>');
  }
  const { path, experiment } = await readExperimentFile(folder);
  const set = practiceSet(experiment, practiceWishes(options, experiment));
  const exercise = options.exercise ?? false;
  const out = options.out ?? join(folder, exercise ? 'exercise' : 'practice');
  const key = options.key ?? usualKeyPath(out);
  const practiceFolder = await openPracticeFolder({ out, key });
  try {
    const keyed = await writeRecordings(set, practiceFolder, surroundings);
    if (exercise) await writeTasks(set, experiment, practiceFolder);
    else {
      await writeCopy(set, path, experiment, practiceFolder);
      await writeSheets(keyed, practiceFolder);
    }
    const about = { version, course: experiment.course ?? null };
    await practiceFolder.finish(sealText(JSON.stringify(practiceKey(set, about, keyed)), passphrase));
  } catch (error) {
    await practiceFolder.discard();
    throw error;
  }
  const made: MadePractice = { path, out, key, set, exercise, encrypted: passphrase !== null };
  const { stdout, environment } = surroundings;
  stdout.write(
    options.json
      ? `${JSON.stringify(practiceAsJson(made))}\n`
      : `${presentPractice(made, inkFor(stdout, environment)).join('\n')}\n`,
  );
  return 0;
}

/** The option wins over the variable. */
async function passphraseOf(
  { passphraseFile }: PracticeCommandOptions,
  { environment }: Surroundings,
): Promise<string | null> {
  if (passphraseFile !== undefined) return readPassphrase(passphraseFile);
  return environment['EMBERLINE_PASSPHRASE'] || null;
}

/** Simulates and writes one recording after another, so that only one is held in memory. */
async function writeRecordings(
  set: PracticeSet,
  folder: PracticeFolder,
  surroundings: Surroundings,
): Promise<KeyedRecording[]> {
  const total = set.recordings.reduce((sum, one) => sum + readingsOf(one), 0);
  const progress = await startProgress(surroundings, Math.max(1, total), 'simulating');
  const keyed: KeyedRecording[] = [];
  let done = 0;
  try {
    for (const recording of set.recordings) {
      const readings = simulateRecording(recording.source.trial);
      const sha256 = await folder.write(recording.path, recordingBytes(readings));
      const row = recording.task === null ? null : handedIn(readings, recording.task);
      keyed.push(keyedRecording(recording, { truth: readings.truth, sha256, handedIn: row }));
      done += readingsOf(recording);
      progress.update(done);
    }
  } finally {
    progress.stop();
  }
  return keyed;
}

function readingsOf({ source }: PracticeRecording): number {
  return source.trial.length * source.trial.logger.rate;
}

async function writeTasks(set: PracticeSet, experiment: Experiment, folder: PracticeFolder): Promise<void> {
  for (const { code } of set.groups) {
    const own = set.recordings.filter(({ group }) => group.code === code);
    await folder.write(`${code}/task.md`, [Buffer.from(practiceTask(experiment, code, own))]);
  }
}

/** What the groups hand in, with slips to find. */
async function writeSheets(keyed: readonly KeyedRecording[], folder: PracticeFolder): Promise<void> {
  for (const [path, text] of groupSheets(keyed)) await folder.write(path, [Buffer.from(text)]);
}

/** With the experiment file beside them, the recordings can be compared as those of a class are. */
async function writeCopy(
  { pattern, groups }: PracticeSet,
  path: string,
  experiment: Experiment,
  folder: PracticeFolder,
): Promise<void> {
  const added = groups.filter(({ invented }) => invented);
  const text = await experimentCopy(path, { experiment, pattern, groups: added });
  await folder.write('experiment.yaml', [Buffer.from(text)]);
}
