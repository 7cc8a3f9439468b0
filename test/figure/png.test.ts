import { describe, expect, it } from 'vitest';
import { frame } from '../../src/figure/frame.ts';
import { lightTheme, svgToPng } from '../../src/figure/index.ts';
import { label } from '../../src/figure/markup.ts';
import { fontFiles } from './sample.ts';

describe('the PNG image', () => {
  const fonts = [fontFiles.regular, fontFiles.semibold];
  const svg = (words: string, weight?: number) =>
    frame(lightTheme, 200, 50, 'a', 'b', label(words, { x: 10, y: 30, 'font-weight': weight }));

  it('has the width asked for (PNG specification, 11.2.2: IHDR)', async () => {
    const png = Buffer.from(await svgToPng(svg('x'), 400, fonts));
    expect(png.subarray(1, 4).toString('latin1')).toBe('PNG');
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([400, 100]);
  });

  it('is drawn with the fonts given: text shows, in two weights, and not without them', async () => {
    const [blank, regular, bold, fontless] = await Promise.all([
      svgToPng(svg(''), 400, fonts),
      svgToPng(svg('37.3 ± 0.4 s'), 400, fonts),
      svgToPng(svg('37.3 ± 0.4 s', 600), 400, fonts),
      svgToPng(svg('37.3 ± 0.4 s'), 400, []),
    ]);
    expect(Buffer.compare(blank, fontless)).toBe(0);
    expect(Buffer.compare(blank, regular)).not.toBe(0);
    expect(Buffer.compare(regular, bold)).not.toBe(0);
  });

  it('refuses widths that make no image', async () => {
    await expect(svgToPng(svg('x'), 1e6, fonts)).rejects.toThrow('1000000 px given');
    await expect(svgToPng(svg('x'), Number.NaN, fonts)).rejects.toThrow(RangeError);
  });
});
