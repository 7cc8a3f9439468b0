import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { type KnownDependency, knownDependencies } from './dependency-table.ts';
import { page, table } from './markdown.ts';

/** The page about what Emberline stands on. */
export const dependenciesPath = 'docs/dependencies.md';

/** What the lock says of a package, by its folder. */
export const lock = z
  .object({
    packages: z.record(
      z.string(),
      z.object({
        version: z.string().optional(),
        license: z.string().optional(),
        hasInstallScript: z.boolean().optional(),
        dependencies: z.record(z.string(), z.string()).optional(),
      }),
    ),
  })
  .parse(JSON.parse(readFileSync('package-lock.json', 'utf8'))).packages;

/** Licences of packages whose own package.json does not say them in the usual place: read there, and in their files. */
const unsaid: Readonly<Record<string, string>> = {
  'node_modules/jstat': 'MIT',
  'node_modules/combine-errors': 'MIT',
};

/** Name of the licence of a package in the SPDX list, by its folder; empty where it is not known. */
export function licenceOf(folder: string): string {
  return lock[folder]?.license ?? unsaid[folder] ?? '';
}

/** Folders of a package and of all that it brings along, but for binaries of one machine. */
function broughtBy(name: string): ReadonlySet<string> {
  const folders = new Set<string>();
  const visit = (wanted: string, from: string) => {
    const folder = folderOf(wanted, from);
    if (folder === null || folders.has(folder)) return;
    folders.add(folder);
    for (const next of Object.keys(lock[folder]?.dependencies ?? {})) visit(next, folder);
  };
  visit(name, '');
  return folders;
}

/** Where Node would find a package from a folder: in its own, or in one further up. */
function folderOf(name: string, from: string): string | null {
  for (let at = from; ; at = dirname(at)) {
    const folder = at === '' || at === '.' ? `node_modules/${name}` : `${at}/node_modules/${name}`;
    if (lock[folder] !== undefined) return folder;
    if (at === '' || at === '.') return null;
  }
}

/** Bytes of a package's own files. */
function ownSize(folder: string): number {
  const names = readdirSync(folder, { withFileTypes: true }).filter((one) => one.name !== 'node_modules');
  return names.reduce((sum, one) => {
    const path = join(folder, one.name);
    return sum + (one.isDirectory() ? ownSize(path) : statSync(path).size);
  }, 0);
}

function row({ name, reason, upkeep }: KnownDependency): string[] {
  const { version = '' } = lock[`node_modules/${name}`] ?? {};
  const folders = [...broughtBy(name)];
  const megabytes = folders.reduce((sum, folder) => sum + ownSize(folder), 0) / 1e6;
  return [
    `${name} ${version}`,
    licenceOf(`node_modules/${name}`),
    megabytes < 0.1 ? '< 0.1' : megabytes.toFixed(1),
    String(folders.length - 1),
    reason,
    upkeep,
  ];
}

function tableOf(...places: readonly KnownDependency['place'][]): string {
  const these = knownDependencies.filter(({ place }) => places.includes(place));
  return table(['package', 'licence', 'MB', 'brings', 'for', 'upkeep'], these.map(row));
}

/** The whole page, from the lock, the installed packages and the table of reasons. */
export function dependenciesPage(): string {
  return page([
    '# What Emberline stands on',
    'A library is taken where it does a thing better than we would and where somebody looks after it; what Emberline is for, it does itself. Every direct dependency stands here, with its licence, its size in MB together with what it brings, how many further packages that is, what it is for, and how it is looked after. Versions are those of `package-lock.json`. Upkeep is told from memory; on 2026-11-30 `npm outdated` named a newer version of no package that is installed or bundled but for one patch of @tanstack/react-query.',
    '## Installed with Emberline',
    'Sizes are without the binaries, which are packages of their own, one for each kind of machine: on Linux x64 71 MB for @duckdb/node-api, 52 MB for @myriaddreamin/typst-ts-node-compiler and 4 MB for @resvg/resvg-js. Where there is none for a machine, everything else works, and a command that needs it says so and what to do instead.',
    tableOf('installed'),
    'Altogether 148 MB in 12 packages on Linux x64 with Node 20, of which three binaries are 128 MB; the package itself is downloaded as 3 MB. `npm run pack-check` packs, installs into an empty folder and prints both again.',
    '## Bundled into it',
    'These are compiled into `dist/` and not installed beside it. `dist/third-party-notices.txt` has the text of their licences and of those of everything that they bring along.',
    tableOf('bundled'),
    'Into the page in the browser go:',
    tableOf('page'),
    '## For building and testing',
    tableOf('tool'),
    '## Scripts at installing',
    'No package in the lock has one: `npm ci --ignore-scripts` installs the same, and `npm run pack-check` installs so. A test holds the lock to it.',
    '## Known weaknesses',
    '`npm audit --omit=dev` says what is known about the installed packages, `npm audit` about all of them. The registry at hand on 2026-11-30 did not answer that question (405, method not allowed), so nothing is claimed here: ask it where the registry answers, before a release.',
  ]);
}
