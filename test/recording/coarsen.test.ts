import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BlockAssembler, coarsenBlocks } from '../../src/recording/index.ts';

const readings = fc.array(
  fc.record({
    gap: fc.integer({ min: 1, max: 30 }),
    value: fc.double({ min: -200, max: 2000, noNaN: true }),
  }),
  { minLength: 1, maxLength: 300 },
);

describe('merging blocks', () => {
  test('gives the sums of the readings themselves, by definition of mean and sum of squares', () => {
    fc.assert(
      fc.property(readings, fc.integer({ min: 1, max: 12 }), (list, factor) => {
        const fine = new BlockAssembler(1);
        const cells = new Map<number, number[]>();
        let time = -1;
        for (const { gap, value } of list) {
          time += gap;
          // The grid starts at the first reading.
          const at = time - ((list[0]?.gap ?? 1) - 1);
          fine.add(at, value);
          const cell = Math.floor(at / factor);
          cells.set(cell, [...(cells.get(cell) ?? []), value]);
        }
        const blocks = coarsenBlocks(fine.blocks(), factor);
        expect(blocks.width).toBe(factor);
        expect([...blocks.cell]).toEqual([...cells.keys()]);
        for (const [i, values] of [...cells.values()].entries()) {
          const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
          const squares = values.reduce((sum, v) => sum + (v - mean) ** 2, 0);
          expect(blocks.count[i]).toBe(values.length);
          expect(blocks.mean[i]).toBeCloseTo(mean, 9);
          expect(Math.abs((blocks.squares[i] ?? 0) - squares)).toBeLessThan(1e-9 * (1 + squares));
          expect(blocks.min[i]).toBe(Math.min(...values));
          expect(blocks.max[i]).toBe(Math.max(...values));
        }
      }),
    );
  });

  test('refuses factors that are no whole numbers', () => {
    const blocks = new BlockAssembler(1).blocks();
    expect(() => coarsenBlocks(blocks, 1.5)).toThrow(RangeError);
    expect(() => coarsenBlocks(blocks, 0)).toThrow(RangeError);
  });
});
