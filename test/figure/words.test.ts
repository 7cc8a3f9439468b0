import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalsFor, fixed, plain, roundTicks, shorten, widthOf, wrap } from '../../src/figure/words.ts';
import { fontFiles } from './sample.ts';
import { anyText } from './texts.ts';

/** Advance widths by character from a TrueType file: tables cmap (format 4) and hmtx, OpenType 1.9. */
function advancesOf(path: string): (code: number) => number {
  const file = readFileSync(path);
  const table = new Map<string, number>();
  for (let i = 0; i < file.readUInt16BE(4); i++) {
    const at = 12 + 16 * i;
    table.set(file.toString('latin1', at, at + 4), file.readUInt32BE(at + 8));
  }
  const of = (tag: string) => table.get(tag) ?? 0;
  const cmap = of('cmap');
  let format4 = 0;
  for (let i = 0; i < file.readUInt16BE(cmap + 2); i++) {
    const at = cmap + file.readUInt32BE(cmap + 8 + 8 * i);
    if (file.readUInt16BE(at) === 4) format4 = at;
  }
  const segments = file.readUInt16BE(format4 + 6);
  const glyph = (code: number): number => {
    for (let k = 0; k < segments; k += 2) {
      const end = file.readUInt16BE(format4 + 14 + k);
      const start = file.readUInt16BE(format4 + 16 + segments + k);
      if (code > end) continue;
      if (code < start) return 0;
      const delta = file.readInt16BE(format4 + 16 + 2 * segments + k);
      const rangeAt = format4 + 16 + 3 * segments + k;
      const range = file.readUInt16BE(rangeAt);
      if (range === 0) return (code + delta) & 0xffff;
      return (file.readUInt16BE(rangeAt + range + 2 * (code - start)) + delta) & 0xffff;
    }
    return 0;
  };
  const metrics = file.readUInt16BE(of('hhea') + 34);
  const perEm = file.readUInt16BE(of('head') + 18);
  return (code) => (1000 * file.readUInt16BE(of('hmtx') + 4 * Math.min(glyph(code), metrics - 1))) / perEm;
}

describe('widths of text', () => {
  it.each([
    ['regular', fontFiles.regular, false],
    ['semi-bold', fontFiles.semibold, true],
  ] as const)('are those of the %s font file', (_, path, bold) => {
    const advance = advancesOf(path);
    for (let code = 32; code < 127; code++) {
      expect(widthOf(String.fromCodePoint(code), 1000, bold), String.fromCodePoint(code)).toBe(
        Math.round(advance(code)),
      );
    }
  });
});

describe('wrapping', () => {
  it('keeps every line within the width and every word, whatever the text', () => {
    fc.assert(
      fc.property(anyText, fc.integer({ min: 60, max: 300 }), (text, width) => {
        const lines = wrap(text, width, 12, 1000);
        for (const line of lines) expect(widthOf(line, 12)).toBeLessThanOrEqual(width);
        expect(lines.join('').replaceAll(' ', '')).toBe(plain(text).replaceAll(' ', ''));
      }),
      { numRuns: 50 },
    );
  });

  it('keeps a number with its uncertainty and its unit', () => {
    const line = 'It is 3.51 ± 0.06 s long';
    for (let width = 70; width < 200; width += 5) {
      expect(wrap(line, width, 12, 9).join('|')).toContain('3.51 ± 0.06 s');
    }
  });

  it('ends the last line in an ellipsis where the text goes on', () => {
    const lines = wrap('one two three four five six seven eight nine ten', 60, 12, 2);
    expect(lines).toHaveLength(2);
    expect(lines[1]?.endsWith('…')).toBe(true);
    expect(shorten('short', 200, 12)).toBe('short');
  });
});

describe('plain text', () => {
  it('takes out what cannot be seen or turns the writing direction', () => {
    expect(plain('a\u0000b\u202Ec\u200Bd\uD800e\n\tf')).toBe('abcde f');
  });

  it('cuts long text in bounded time', () => {
    expect(plain('x'.repeat(5_000_000), 10)).toBe(`${'x'.repeat(9)}…`);
  });
});

describe('numbers', () => {
  it('have a true minus sign, and none for zero', () => {
    expect(fixed(-1.25, 1)).toMatch(/^\u22121\.[23]$/);
    expect(fixed(-0.004, 2)).toBe('0.00');
    expect(fixed(-0.006, 2)).toBe('\u22120.01');
  });

  it('show an uncertainty to two figures (JCGM 100:2008, 7.2.6)', () => {
    expect([12, 1.2, 0.4, 0.061, 0].map(decimalsFor)).toEqual([0, 1, 2, 3, 3]);
  });

  it('divide an axis into round steps inside it', () => {
    expect(roundTicks(0, 219, 8)).toEqual({
      values: [0, 20, 40, 60, 80, 100, 120, 140, 160, 180, 200],
      decimals: 0,
    });
    expect(roundTicks(-2.45, 0.05, 5).values).toEqual([-2, -1.5, -1, -0.5, 0]);
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
        (low, span) => {
          const { values } = roundTicks(low, low + span, 6);
          expect(values.length).toBeGreaterThan(1);
          expect(values.length).toBeLessThan(16);
          for (const v of values) {
            expect(v).toBeGreaterThanOrEqual(low - 1e-6 * span);
            expect(v).toBeLessThanOrEqual(low + span + 1e-6 * span);
          }
        },
      ),
    );
  });
});
