/**
 * Makes the pages of docs/reference from the source and docs/dependencies.md from what is installed, and looks whether
 * all pages hold: links, and commands that they name. Run with `npm run docs`.
 */
import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { dependenciesPage, dependenciesPath } from './docs/dependencies.ts';
import { allPages, brokenLinks } from './docs/links.ts';
import { unknownCommands } from './docs/named-commands.ts';
import { referenceFolder, referencePages } from './docs/pages.ts';

const made = referencePages();
for (const [path, text] of made) {
  const file = join(referenceFolder, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}
const drawings = join(referenceFolder, 'correlations');
for (const name of readdirSync(drawings)) {
  if (!made.has(`correlations/${name}`)) rmSync(join(drawings, name));
}

writeFileSync(dependenciesPath, dependenciesPage());

const pages = allPages();
const faults = [...brokenLinks(pages), ...unknownCommands(pages)];
for (const fault of faults) process.stderr.write(`${fault}\n`);
process.stdout.write(
  `Made ${made.size} files in ${referenceFolder}, and ${dependenciesPath}; ${faults.length === 0 ? `${pages.length} pages hold.` : `mend ${faults.length} places.`}\n`,
);
process.exitCode = faults.length === 0 ? 0 : 1;
