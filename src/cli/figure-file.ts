import { mkdir, writeFile } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import type { AnalyzedFile } from '../analysis/index.ts';
import { OptionError } from './wishes.ts';

/**
 * Where the figures of recordings go: the given path for one; for several, with the recording's own name behind
 * it, and with its folders before that where names alone would not tell them apart.
 *
 * @returns one path a recording, in their order
 * @throws OptionError where the path ends neither in .svg nor in .png
 */
export function figurePaths(wanted: string, recordings: readonly string[]): readonly string[] {
  const extension = extname(wanted).toLowerCase();
  if (extension !== '.svg' && extension !== '.png') {
    throw new OptionError(`--figure ${wanted}: the name must end in .svg or .png`);
  }
  if (recordings.length === 1) return [wanted];
  const stem = join(dirname(wanted), basename(wanted, extname(wanted)));
  const parts = recordings.map((path) => {
    const names = path.split(/[\\/]+/).filter((name) => name !== '' && name !== '.' && name !== '..');
    return names.map((name) => name.replace(/[^A-Za-z0-9._-]/g, '_'));
  });
  for (let depth = 1; depth <= 20; depth++) {
    const own = parts.map((names) =>
      names
        .slice(-depth)
        .join('-')
        .replace(/[.][A-Za-z0-9]{1,5}$/, ''),
    );
    if (new Set(own).size === own.length) return own.map((name) => `${stem}-${name}${extension}`);
  }
  return recordings.map((_, i) => `${stem}-${i + 1}${extension}`);
}

/** Draws a recording into a file; folders are made as needed. */
export async function writeFigure(path: string, analyzed: AnalyzedFile): Promise<void> {
  const { tracePicture } = await import('../export/index.ts');
  const picture = await tracePicture(analyzed, path.toLowerCase().endsWith('.png') ? 'png' : 'svg');
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, picture);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new OptionError(`--figure ${path}: the picture could not be written (${why}); name another place`);
  }
}
