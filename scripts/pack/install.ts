import { mkdir, readdir, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { mustRun } from './process.ts';

/** A package that was packed and installed where nothing else was. */
export interface Installed {
  /** The folder into which it was installed. */
  readonly folder: string;
  /** The command as package.json names it. */
  readonly main: string;
  /** Size of what is downloaded for this package alone, bytes. */
  readonly packed: number;
  /** Size of everything that lies there then, bytes. */
  readonly size: number;
  /** Packages that lie there, this one among them. */
  readonly packages: number;
}

/**
 * Packs this package as it would be published, and installs it into an empty folder from the registry that npm is set up
 * for; no package may run a script.
 *
 * @param scratch an empty folder
 * @throws Error where npm cannot do it
 */
export async function packAndInstall(scratch: string): Promise<Installed> {
  await mustRun('.', 'npm', ['pack', '--ignore-scripts', '--pack-destination', scratch]);
  const tarball = (await readdir(scratch)).find((name) => name.endsWith('.tgz'));
  if (tarball === undefined) throw new Error(`npm pack wrote no file into ${scratch}`);
  const folder = await emptyProject(join(scratch, 'installed'));
  await npmInstall(folder, join(scratch, tarball));
  const modules = join(folder, 'node_modules');
  return {
    folder,
    main: join(modules, 'emberline', 'dist', 'main.js'),
    packed: (await stat(join(scratch, tarball))).size,
    size: await sizeOf(modules),
    packages: await packagesIn(modules),
  };
}

/** Installs what is named, without scripts. @throws Error where the registry does not have it */
export async function npmInstall(folder: string, what: string): Promise<void> {
  await mustRun(folder, 'npm', ['install', '--ignore-scripts', '--no-audit', '--no-fund', what]);
}

/** A folder with nothing but a package.json, so that npm installs into it and not further up. */
export async function emptyProject(folder: string): Promise<string> {
  await mkdir(folder);
  await writeFile(join(folder, 'package.json'), '{ "private": true, "type": "module" }\n');
  return folder;
}

/** Size of all files below a folder, bytes. */
async function sizeOf(folder: string): Promise<number> {
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = names.filter((one) => one.isFile());
  const sizes = await Promise.all(
    files.map(async (one) => (await stat(join(one.parentPath, one.name))).size),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
}

async function packagesIn(modules: string): Promise<number> {
  const names = (await readdir(modules)).filter((name) => !name.startsWith('.'));
  const counts = names.map(async (name) => {
    return name.startsWith('@') ? (await readdir(join(modules, name))).length : 1;
  });
  return (await Promise.all(counts)).reduce((sum, count) => sum + count, 0);
}
