import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

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
