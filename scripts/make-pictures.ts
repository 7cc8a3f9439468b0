/** Draws the pictures of the README and the docs from the example recordings. Run with `npm run pictures`. */
import { join } from 'node:path';
import { run } from '../src/cli/program.ts';

const examples = join('examples', 'thornwick');
const pictures = [['A/bench-1/brass-12_120.txt', 'brass-12.png']] as const;

const surroundings = { stdout: process.stdout, stderr: process.stderr, environment: process.env };
for (const [recording, picture] of pictures) {
  const path = join(examples, 'recordings', recording);
  const figure = join('docs', 'pictures', picture);
  const status = await run(['analyze', path, '--experiment', examples, '--figure', figure], surroundings);
  if (status === 2) process.exitCode = 2;
}
