/** Shows in the terminal what Emberline makes of the demo: `npm run tour`. */
import { readdirSync } from 'node:fs';
import { PassThrough } from 'node:stream';
import { run } from '../src/cli/program.ts';
import { inkFor, type Surroundings } from '../src/cli/terminal.ts';
import { readPracticeKey } from '../src/store/index.ts';

const course = 'demo/thornwick';
const section = `${course}/recordings/A`;
const good = `${section}/A1/brass-12_120-1.txt`;
const bad = `${section}/A2/brass-20_120-1.txt`;

const surroundings: Surroundings = {
  stdout: process.stdout,
  stderr: process.stderr,
  environment: process.env,
};
const ink = inkFor(process.stdout, process.env);
let failed = false;

const key = await readPracticeKey('demo/thornwick-answers/key.json', null);

say(`Thornwick is an invented course: three sections of four groups, each with five recordings of a
metal sphere or a bare junction that was heated with hot air and cooled in an air jet. They were
made from a seed and lie in ${course}. About a fifth of them have something wrong with them.`);

heading('All recordings of section A, a line each: two must be repeated');
await show(['analyze', `${section}/*/*.txt`, '--experiment', course, '--brief'], surroundings);
say('\nBeside its neighbours, group A2 has the time constants of its two 12 mm spheres exchanged.');

heading('A good one in full');
await show(['analyze', good, '--experiment', course], surroundings);
say(`It was simulated with a time constant of ${truthOf(good)} s.`);

heading('One to repeat, and why');
await show(['analyze', bad, '--experiment', course], surroundings);

heading('The whole course beside theory: the beginning');
await showBeginning(['compare', course]);
say('\n  ... and then trends, heat transfer coefficients, and every recording that asks for a look.');

heading('What to try next');
say(`  npx emberline predict ${course}            the time constants to expect, and how well
  npx emberline plan ${course}               run order, time line and settings of a session
  npx emberline practice --answers ${course} what is true of each recording, and what was done to it
  npx emberline new my-course                     a folder for an experiment of your own
  npx emberline analyze my-recording.txt          any text file of any logger; --help has the options`);
process.exitCode = failed ? 2 : 0;

function say(text: string): void {
  console.log(text);
}

function heading(text: string): void {
  say(`\n${ink.strong(text)}`);
}

/** Runs a command behind its name as it would be typed. */
async function show(words: readonly string[], where: Surroundings): Promise<void> {
  say(`${ink.faint(`$ npx emberline ${words.join(' ')}`)}\n`);
  const status = await run(words.flatMap(unfolded), where);
  if (status === 2) failed = true;
}

/** The same, and of what it prints only the part before the second empty line. */
async function showBeginning(words: readonly string[]): Promise<void> {
  const stdout = new PassThrough();
  await show(words, { ...surroundings, stdout });
  const text = String(stdout.read() ?? '');
  say(text.split('\n\n').slice(0, 2).join('\n\n'));
}

/** Paths with * in them, as a shell would write them out. */
function unfolded(word: string): string[] {
  if (!word.includes('*')) return [word];
  return readdirSync(section, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.txt'))
    .sort()
    .map((name) => `${section}/${name.replaceAll('\\', '/')}`);
}

function truthOf(path: string): string {
  const truth = key.recordings.find((one) => `${course}/${one.path}` === path)?.truth;
  return truth?.timeConstant?.toFixed(2) ?? 'not known, in';
}
