import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** What the demo is made by, from the folder of the project. */
const makers = [
  'src/quantity',
  'src/sensing',
  'src/prediction',
  'src/experiment',
  'src/practice',
  'src/store',
  'scripts/demo',
  'examples/thornwick/experiment.yaml',
  'src/version.ts',
  'node_modules/pure-rand/package.json',
];

/** A hash of everything that the demo is made by: another one means that it must be made again. */
export function stampOf(root: string): string {
  const hash = createHash('sha256');
  for (const path of makers.flatMap((maker) => filesIn(root, maker))) {
    hash
      .update(`${path}\0`)
      .update(readFileSync(join(root, path)))
      .update('\0');
  }
  return hash.digest('hex');
}

function filesIn(root: string, path: string): string[] {
  if (!statSync(join(root, path)).isDirectory()) return [path];
  return readdirSync(join(root, path))
    .sort()
    .flatMap((name) => filesIn(root, `${path}/${name}`));
}
