import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brailleChart, brailleStrip } from '../../src/figure/terminal.ts';
import { anyText } from './texts.ts';

describe('the terminal plot', () => {
  // Drawn by hand with the dot numbers of Unicode chapter 21.1: 1 2 3 7 down the left column (bits 01 02 04 40),
  // 4 5 6 8 down the right one (bits 08 10 20 80).
  it('sets the dots of a falling line: eight dots across, four down', () => {
    // Dots (0,0) (1,0) (2,1) (3,1) (4,2) (5,2) (6,3) (7,3): the line falls by 3/7 dot a column.
    // Cells: 01+08 = 09, 02+10 = 12, 04+20 = 24, 40+80 = C0.
    const x = [0, 1, 2, 3, 4, 5, 6, 7];
    const y = [7, 6, 5, 4, 3, 2, 1, 0];
    expect(brailleStrip(x, y, 4)).toBe('\u2809\u2812\u2824\u28C0');
  });

  it('joins two points by a straight line', () => {
    expect(brailleStrip([0, 1], [0, 1], 4)).toBe('\u28C0\u2824\u2812\u2809');
  });

  it('joins a step by an upright line', () => {
    // Dots 0 to 3 low, 4 to 7 high; the way up from column 3 to 4 leaves by (3,2) and arrives by (4,1).
    const step = brailleStrip([0, 1, 2, 3, 4, 5, 6, 7], [0, 0, 0, 0, 1, 1, 1, 1], 4);
    expect(step).toBe('\u28C0\u28E0\u280B\u2809');
  });

  it('has numbers beside the dots, an axis, and names', () => {
    const lines = brailleChart({
      x: [0, 10],
      y: [20, 100],
      width: 20,
      height: 2,
      xLabel: 'Time in s',
      yLabel: 'Temperature in °C',
      spans: [{ from: 0, to: 10, name: 'cooling' }],
    });
    // 20 columns less 4 for the numbers less 1 for the axis: 15 cells, 30 dots across and 8 down. Row 0 holds
    // the dots of the upper half (from the middle on), row 1 those of the lower half.
    expect(lines[0]).toBe('Temperature in °C');
    expect(lines[1]?.slice(0, 5)).toBe('100 ┤');
    expect(lines[2]?.slice(0, 5)).toBe(' 50 ┤');
    expect(lines[1]?.at(-1)).toBe('\u2809');
    expect(lines[2]?.[5]).toBe('\u28C0');
    expect(lines[1]?.[5]).toBe('\u2800');
    expect(lines[3]).toBe('    └┬──────┬──────┬');
    expect(lines[4]).toBe('     0      5     10');
    expect(lines[5]).toBe('     ├╌╌ cooling ╌╌┤');
    expect(lines[6]).toBe('           Time in s');
    expect(lines).toHaveLength(7);
  });

  it('stays within 80 characters and the lines asked for, whatever it is given', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double(), { maxLength: 50 }),
        fc.array(fc.double(), { maxLength: 50 }),
        fc.double(),
        fc.double(),
        anyText,
        (x, y, width, height, name) => {
          const spans = [{ from: x[0] ?? 0, to: x[1] ?? 1, name }];
          const lines = brailleChart({ x, y, width, height, xLabel: name, yLabel: name, spans });
          expect(lines.length).toBeLessThanOrEqual(46);
          for (const line of lines) {
            expect(Array.from(line).length).toBeLessThanOrEqual(80);
            // biome-ignore lint/suspicious/noControlCharactersInRegex: no colour or cursor sequences may come out
            expect(line).not.toMatch(/[\u0000-\u001F\u007F-\u009F]/);
          }
        },
      ),
      { numRuns: 50 },
    );
  });

  it('says so where there is nothing to draw', () => {
    const none = { x: [], y: [], width: 80, height: 10, xLabel: '', yLabel: '' };
    expect(brailleChart(none)).toEqual(['nothing to draw']);
    expect(brailleStrip([], [], 10)).toBe('');
  });
});
