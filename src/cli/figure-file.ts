import { mkdir, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, extname, join } from 'node:path';
import type { AnalyzedFile } from './analysis.ts';
import { traceFigureData } from './trace-data.ts';
import { OptionError } from './wishes.ts';

/** Width of a picture, px: twice the figure's own, for print and dense screens. */
const pictureWidth = 1920;

/**
 * Where the figure of a recording goes: the given path, with the recording's own name behind it where there are
 * several.
 *
 * @throws OptionError where the path ends neither in .svg nor in .png
 */
export function figurePath(wanted: string, recording: string, several: boolean): string {
  const extension = extname(wanted).toLowerCase();
  if (extension !== '.svg' && extension !== '.png') {
    throw new OptionError(`--figure ${wanted}: the name must end in .svg or .png`);
  }
  if (!several) return wanted;
  const stem = basename(wanted, extname(wanted));
  const own = basename(recording, extname(recording)).replace(/[^A-Za-z0-9._-]/g, '_');
  return join(dirname(wanted), `${stem}-${own}${extension}`);
}

/** Draws a recording into a file; folders are made as needed. */
export async function writeFigure(path: string, analyzed: AnalyzedFile): Promise<void> {
  const { offscreenDocument, svgToPng, traceFigure } = await import('../figure/index.ts');
  const svg = traceFigure(traceFigureData(analyzed), { document: offscreenDocument() });
  await mkdir(dirname(path), { recursive: true });
  await writeFile(
    path,
    path.toLowerCase().endsWith('.png') ? await svgToPng(svg, pictureWidth, fontFiles()) : svg,
  );
}

/** The bundled text family, regular and semi-bold. */
function fontFiles(): string[] {
  const family = createRequire(import.meta.url).resolve(
    '@expo-google-fonts/atkinson-hyperlegible-next/package.json',
  );
  return ['400Regular', '600SemiBold'].map((weight) => {
    return join(dirname(family), weight, `AtkinsonHyperlegibleNext_${weight}.ttf`);
  });
}
