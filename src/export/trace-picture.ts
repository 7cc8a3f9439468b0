import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { type AnalyzedFile, traceFigureData } from '../analysis/index.ts';
import { offscreenDocument, svgToPng, traceFigure } from '../figure/index.ts';

/** How a figure can be written. */
export type PictureFormat = 'svg' | 'png';

/** Width of a picture, px: twice the figure's own, for print and dense screens. */
const pictureWidth = 1920;

/** The figure of a recording: its trace with segments and fit, and the error fraction below. */
export async function tracePicture(analyzed: AnalyzedFile, format: PictureFormat): Promise<Uint8Array> {
  const svg = traceFigure(traceFigureData(analyzed), { document: offscreenDocument() });
  return format === 'svg' ? Buffer.from(svg, 'utf8') : svgToPng(svg, pictureWidth, fontFiles());
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
