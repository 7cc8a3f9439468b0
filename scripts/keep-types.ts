/**
 * Removes declarations that the library's own do not lead to; part of `npm run build`. The compiler declares every module
 * that it passes through, and some of those speak of libraries that are bundled and not installed.
 */
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';

const types = join('dist', 'types');

const reached = new Set<string>();
const waiting = [join(types, 'index.d.ts')];
for (let file = waiting.pop(); file !== undefined; file = waiting.pop()) {
  if (reached.has(file)) continue;
  reached.add(file);
  for (const [, to = ''] of readFileSync(file, 'utf8').matchAll(
    /(?:from|import)\(? ?['"](\.[^'"]+)\.ts['"]/g,
  )) {
    waiting.push(join(dirname(file), `${to}.d.ts`));
  }
}
for (const name of readdirSync(types, { recursive: true, encoding: 'utf8' })) {
  const file = join(types, name);
  if (name.endsWith('.d.ts') && !reached.has(file)) rmSync(file);
}
