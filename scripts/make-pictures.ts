/** Draws the pictures of the README and the docs from the demo. Run with `npm run pictures`. */
import { join } from 'node:path';
import { run } from '../src/cli/program.ts';

const course = join('demo', 'thornwick');
const pictures = [['A/A1/brass-12_120-1.txt', 'brass-12.png']] as const;

const surroundings = { stdout: process.stdout, stderr: process.stderr, environment: process.env };
for (const [recording, picture] of pictures) {
  const path = join(course, 'recordings', recording);
  const figure = join('docs', 'pictures', picture);
  const status = await run(['analyze', path, '--experiment', course, '--figure', figure], surroundings);
  if (status === 2) process.exitCode = 2;
}
