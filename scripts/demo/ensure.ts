import {
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { type Progress, type Surroundings, startProgress } from '../../src/cli/terminal.ts';
import { thornwickDemo } from '../../src/practice/demo.ts';
import { groupSheets } from '../../src/practice/handed-in.ts';
import { practiceKey } from '../../src/practice/key.ts';
import { readExperiment, sealText } from '../../src/store/index.ts';
import { version } from '../../src/version.ts';
import type { Crew } from './crew.ts';
import { stampOf } from './stamp.ts';

/** What became of the demo. */
export interface Ensured {
  /** Whether it was not there, or made by something older. */
  readonly made: boolean;
  readonly recordings: number;
  readonly seconds: number;
}

/** What a demo says of itself, so that it is made again only when it must be. */
const noteShape = z.object({ stamp: z.string(), sizes: z.record(z.string(), z.number()) });
type Note = z.infer<typeof noteShape>;

/** The course, and the truth about it: beside the recordings, not among them. */
const courseFolder = 'thornwick';
const answersFolder = 'thornwick-answers';

/**
 * Makes the demo below `demo/` where it is not there, is damaged, or was made by other code. It appears as a whole or
 * not at all: it is made in a folder beside its place, and then put there. Results that were kept of it are removed, for
 * they may be those of other code.
 *
 * @param root folder of the project
 */
export async function ensureDemo(root: string, crew: Crew, surroundings: Surroundings): Promise<Ensured> {
  const demo = join(root, 'demo');
  rmSync(join(demo, courseFolder, 'results'), { recursive: true, force: true });
  const stamp = stampOf(root);
  const note = noteIn(demo);
  if (note !== null && note.stamp === stamp && isWhole(demo, note)) {
    return { made: false, recordings: Object.keys(note.sizes).length, seconds: 0 };
  }
  const started = performance.now();
  const making = join(demo, `.making-${process.pid}`);
  try {
    const sizes = await makeIn(making, join(root, 'examples', 'thornwick'), crew, surroundings);
    rmSync(join(demo, 'made.json'), { force: true });
    for (const name of [courseFolder, answersFolder]) exchange(join(making, name), join(demo, name));
    const text = JSON.stringify({ stamp, sizes } satisfies Note);
    writeFileSync(join(making, 'made.json'), text);
    renameSync(join(making, 'made.json'), join(demo, 'made.json'));
    const seconds = (performance.now() - started) / 1000;
    return { made: true, recordings: Object.keys(sizes).length, seconds };
  } finally {
    rmSync(making, { recursive: true, force: true });
  }
}

/** @returns size of each recording by its path from the course's folder */
async function makeIn(making: string, example: string, crew: Crew, surroundings: Surroundings) {
  const experiment = await readExperiment(example);
  const { course, reference } = thornwickDemo(experiment);
  const recordings = [...course.recordings, ...reference.runs.recordings];
  const folder = join(making, courseFolder);
  mkdirSync(folder, { recursive: true });
  cpSync(join(example, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  const progress: Progress = await startProgress(surroundings, recordings.length, 'making demo/thornwick');
  const keyed = await crew.write(folder, recordings, progress.update).finally(progress.stop);
  const about = { version, course: experiment.course ?? null };
  const split = course.recordings.length;
  mkdirSync(join(folder, 'submissions'));
  for (const [path, text] of groupSheets(keyed.slice(0, split))) writeFileSync(join(folder, path), text);
  mkdirSync(join(making, answersFolder));
  const answer = (name: string, key: object) => {
    writeFileSync(join(making, answersFolder, name), sealText(JSON.stringify(key), null));
  };
  answer('key.json', practiceKey(course, about, keyed.slice(0, split)));
  answer('reference-key.json', {
    ...practiceKey(reference.runs, about, keyed.slice(split)),
    drift: reference.drift,
  });
  return Object.fromEntries(recordings.map(({ path }) => [path, statSync(join(folder, path)).size]));
}

function noteIn(demo: string): Note | null {
  try {
    return noteShape.parse(JSON.parse(readFileSync(join(demo, 'made.json'), 'utf8')));
  } catch {
    return null;
  }
}

function isWhole(demo: string, { sizes }: Note): boolean {
  const others = [join(courseFolder, 'experiment.yaml'), join(answersFolder, 'key.json')];
  return (
    others.every((path) => existsSync(join(demo, path))) &&
    Object.entries(sizes).every(([path, size]) => {
      return statSync(join(demo, courseFolder, path), { throwIfNoEntry: false })?.size === size;
    })
  );
}

/** Puts a folder in the place of another. */
function exchange(from: string, to: string): void {
  if (existsSync(to)) renameSync(to, `${from}-old`);
  renameSync(from, to);
}
