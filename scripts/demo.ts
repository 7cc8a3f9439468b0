/** Analyzes the example recordings in the terminal: what `npm start` shows. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { run } from '../src/cli/program.ts';

const folder = join('examples', 'thornwick');
const recordings = readdirSync(join(folder, 'recordings'), { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(txt|csv)$/.test(name))
  .sort()
  .map((name) => join(folder, 'recordings', name));

const words = ['analyze', ...recordings, '--experiment', folder];
console.log(`emberline ${words.join(' ')}\n`);
const status = await run(words, {
  stdout: process.stdout,
  stderr: process.stderr,
  environment: process.env,
});
console.log(
  status === 1
    ? 'Exit status 1: the analysis is done, and a recording must be repeated, as the remarks say.'
    : `Exit status ${status}.`,
);
process.exitCode = status === 2 ? 2 : 0;
