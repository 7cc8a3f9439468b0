import { type BinaryPart, binaryPart } from '../remark/index.ts';

const drawer: BinaryPart = {
  makes: 'A picture as PNG',
  packageName: '@resvg/resvg-js',
  instead: 'write it as SVG',
};

/**
 * A drawing as a PNG image. The drawing engine is a native module and is loaded on the first call, so that
 * whoever only wants SVG text neither loads nor ships it.
 *
 * @param svg a figure of this package
 * @param width px, 16 to 8192; 1920 shows a figure of 960 px at twice its size
 * @param fontFiles paths of the text family's files, regular and semi-bold; letters that they do not have
 *   are drawn as empty boxes, as no font of the system is used
 * @throws RangeError if the width is out of range; MissingPartError where no
 *   drawing engine fits this machine; Error if the text is not SVG
 */
export async function svgToPng(
  svg: string,
  width: number,
  fontFiles: readonly string[],
): Promise<Uint8Array> {
  if (!(width >= 16 && width <= 8192)) {
    throw new RangeError(`the width of an image must be 16 to 8192 px: ${width} px given`);
  }
  const { Resvg } = await binaryPart(drawer, () => import('@resvg/resvg-js'));
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'width', value: Math.round(width) },
    font: {
      loadSystemFonts: false,
      fontFiles: [...fontFiles],
      defaultFontFamily: 'Atkinson Hyperlegible Next',
      sansSerifFamily: 'Atkinson Hyperlegible Next',
    },
  });
  return drawing.render().asPng();
}
