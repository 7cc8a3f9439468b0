/**
 * Saving what the page made: `saveText` and `savePng` (from SVG text, twice its own size for print and dense
 * screens, with the page's letters in it).
 */

/** Hands a text over as a file. */
export function saveText(text: string, name: string, type: string): void {
  saveBlob(new Blob([text], { type }), name);
}

/**
 * Hands an SVG drawing over as a PNG picture.
 *
 * @throws Error where the browser cannot draw it
 */
export async function savePng(svg: string, name: string): Promise<void> {
  const address = URL.createObjectURL(new Blob([await withLetters(svg)], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.naturalWidth * 2;
    canvas.height = image.naturalHeight * 2;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
    if (blob === null) throw new Error('The browser could not make the picture; save it as SVG.');
    saveBlob(blob, name);
  } finally {
    URL.revokeObjectURL(address);
  }
}

/** Hands a file over under a name, in which only letters, digits, dots and hyphens stay. */
export function saveBlob(blob: Blob, name: string): void {
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = name.replace(/[^\p{L}\p{M}\p{N}._-]+/gu, '-');
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A picture sees no fonts of its page: they are put into it. */
async function withLetters(svg: string): Promise<string> {
  const faces = await Promise.all(fontAddresses().map(fontFace));
  return svg.replace(/(<svg[^>]*>)/, `$1<style>${faces.join('')}</style>`);
}

interface FontAddress {
  readonly address: string;
  readonly range: string;
}

/** The text family's upright files, as the page's own style sheets name them. */
function fontAddresses(): FontAddress[] {
  return [...document.styleSheets].flatMap((sheet) =>
    [...sheet.cssRules].flatMap((rule) => {
      if (!(rule instanceof CSSFontFaceRule)) return [];
      const family = rule.style.getPropertyValue('font-family');
      const address = /url\("?([^")]+)"?\)/.exec(rule.style.getPropertyValue('src'))?.[1];
      if (!family.includes('Atkinson') || address === undefined) return [];
      if (rule.style.getPropertyValue('font-style') === 'italic') return [];
      const range = rule.style.getPropertyValue('unicode-range');
      return [{ address: new URL(address, sheet.href ?? document.baseURI).href, range }];
    }),
  );
}

async function fontFace({ address, range }: FontAddress): Promise<string> {
  const bytes = new Uint8Array(await (await fetch(address)).arrayBuffer());
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  const data = `data:font/woff2;base64,${btoa(binary)}`;
  return `@font-face{font-family:'Atkinson Hyperlegible Next';font-weight:200 800;src:url(${data}) format('woff2');unicode-range:${range}}`;
}
