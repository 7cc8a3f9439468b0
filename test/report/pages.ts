import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { z } from 'zod';

/** Text of each page, as a reader of the file finds it. */
export async function pagesOf(pdf: Uint8Array): Promise<string[]> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: 0 }).promise;
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const content = await (await document.getPage(number)).getTextContent();
    pages.push(content.items.map((item) => ('str' in item ? item.str : '')).join(' '));
  }
  return pages;
}

/** Width and height of each page, points. */
export async function sizesOf(pdf: Uint8Array): Promise<number[][]> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: 0 }).promise;
  const sizes: number[][] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const { width, height } = (await document.getPage(number)).getViewport({ scale: 1 });
    sizes.push([width, height]);
  }
  return sizes;
}

/** What is drawn on a page. */
interface DrawnPage {
  /** Paths that are painted. */
  readonly paths: number;
  /** Words that stand for its figures, in their order. */
  readonly alternatives: string[];
  /** Colours of letters, lines and areas, as #rrggbb, each once. */
  readonly colours: string[];
}

/** What is drawn on each page, and what is said of its figures (ISO 32000-2, 14.9.3). */
export async function drawnOn(pdf: Uint8Array): Promise<DrawnPage[]> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: 0 }).promise;
  const pages: DrawnPage[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { fnArray, argsArray } = await page.getOperatorList();
    const colours = new Set<string>();
    let paths = 0;
    fnArray.forEach((operation: number, i: number) => {
      if (operation === OPS.constructPath) paths++;
      const given: unknown = argsArray[i];
      if (operation === OPS.setFillRGBColor || operation === OPS.setStrokeRGBColor) {
        colours.add(String(Array.isArray(given) ? given[0] : given));
      }
    });
    const alternatives = alternativesIn(await page.getStructTree());
    pages.push({ paths, alternatives, colours: [...colours] });
  }
  return pages;
}

function alternativesIn(node: unknown): string[] {
  const { role, alt, children } = treeNode.parse(node);
  // A formula has words as well.
  const own = role === 'Figure' && alt !== undefined ? [alt] : [];
  return [...own, ...(children ?? []).flatMap(alternativesIn)];
}

const treeNode = z.object({
  role: z.string().optional(),
  alt: z.string().optional(),
  children: z.array(z.unknown()).optional(),
});

/** What a file says of itself. */
export async function sourceOfPdf(pdf: Uint8Array) {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: 0 }).promise;
  const { info, metadata } = await document.getMetadata();
  const marks = markInfo.parse(await document.getMarkInfo());
  const said = z.object({ Title: z.string().optional(), Language: z.string().nullish() }).parse(info);
  const shown = z.object({ DisplayDocTitle: z.boolean() }).safeParse(await document.getViewerPreferences());
  return {
    marked: marks?.Marked === true,
    title: said.Title ?? null,
    language: said.Language ?? null,
    part: metadata?.get('pdfuaid:part') ?? null,
    titleShown: shown.success && shown.data.DisplayDocTitle,
  };
}

const markInfo = z.object({ Marked: z.boolean() }).nullable();

/** The fonts of a file, and whether it holds them. */
export async function fontsOf(pdf: Uint8Array): Promise<{ name: string; embedded: boolean }[]> {
  const document = await getDocument({ data: Uint8Array.from(pdf), verbosity: 0 }).promise;
  const fonts = new Map<string, boolean>();
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { fnArray, argsArray } = await page.getOperatorList();
    fnArray.forEach((operation: number, i: number) => {
      if (operation !== OPS.setFont) return;
      const id = z.string().parse(argsArray[i]?.[0]);
      const font = heldFont.parse(page.commonObjs.get(id));
      fonts.set(font.name, font.missingFile !== true);
    });
  }
  return [...fonts].map(([name, embedded]) => ({ name, embedded }));
}

const heldFont = z.object({ name: z.string(), missingFile: z.boolean().optional() });
