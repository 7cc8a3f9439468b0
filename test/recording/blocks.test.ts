import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { BlockAssembler, type Blocks, blocksOf } from '../../src/recording/index.ts';
import { read } from './helpers.ts';

function total(blocks: Blocks): { n: number; mean: number; squares: number; min: number; max: number } {
  let n = 0;
  let sum = 0;
  for (let i = 0; i < blocks.length; i++) {
    n += blocks.count[i] ?? 0;
    sum += (blocks.count[i] ?? 0) * (blocks.mean[i] ?? 0);
  }
  const mean = sum / n;
  let squares = 0;
  for (let i = 0; i < blocks.length; i++) {
    squares += (blocks.squares[i] ?? 0) + (blocks.count[i] ?? 0) * ((blocks.mean[i] ?? 0) - mean) ** 2;
  }
  return { n, mean, squares, min: Math.min(...blocks.min), max: Math.max(...blocks.max) };
}

describe('blocks', () => {
  const series = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 400 });

  test('number, mean, spread and extremes of all samples are kept, however few blocks there are', () => {
    fc.assert(
      fc.property(
        series,
        fc.integer({ min: 2, max: 50 }),
        fc.constantFrom(1e-4, 1e-3, 0.02, 0.1, 1, 0.37),
        (values, capacity, period) => {
          const blocks = blocksOf(values, period, capacity);
          const all = total(blocks);
          const mean = values.reduce((a, b) => a + b, 0) / values.length;
          const squares = values.reduce((a, b) => a + (b - mean) ** 2, 0);
          expect(blocks.length).toBeLessThanOrEqual(capacity + 1);
          expect(all.n).toBe(values.length);
          // Sums of 400 doubles of size 1e3: rounding of some 1e-13 of the size.
          expect(Math.abs(all.mean - mean)).toBeLessThan(1e-9);
          expect(Math.abs(all.squares - squares)).toBeLessThan(1e-9 * (1 + squares) + 1e-6);
          expect(all.min).toBe(Math.min(...values));
          expect(all.max).toBe(Math.max(...values));
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });

  test('looking on the way and copying change nothing', () => {
    fc.assert(
      fc.property(series, fc.integer({ min: 2, max: 50 }), (values, capacity) => {
        let assembler = new BlockAssembler(0.001, capacity);
        values.forEach((value, i) => {
          assembler.add(i * 0.001, value);
          if (i % 7 === 0) assembler.blocks();
          if (i % 11 === 0) assembler = assembler.clone();
        });
        expect(assembler.blocks()).toEqual(blocksOf(values, 0.001, capacity));
      }),
      { seed: 4, numRuns: 100 },
    );
  });

  test('cells of many samples fit whole periods of 50 Hz and 60 Hz mains', () => {
    const blocks = blocksOf(new Float64Array(400_000), 1e-3);
    // 0.05 s would be three periods of 60 Hz; at 1 kHz 4 samples a cell are on the way to 10, 50 and 100.
    expect([0.001, 0.002, 0.005, 0.01, 0.05, 0.1]).toContain(Number(blocks.width.toFixed(6)));
    const wide = blocksOf(new Float64Array(400_000), 1e-3, 4096);
    expect(Number((wide.width / 0.1).toFixed(6)) % 1).toBe(0);
  });

  test('a gap is a jump in the cells', () => {
    const assembler = new BlockAssembler(0.5);
    for (const t of [0, 0.5, 1, 1e9, 1e9 + 0.5]) assembler.add(t, 1);
    expect([...assembler.blocks().cell]).toEqual([0, 1, 2, 2e9, 2e9 + 1]);
  });

  test('a file of even samples gives the blocks of its samples', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -99_999, max: 99_999 }), { minLength: 3, maxLength: 300 }),
        fc.constantFrom(10, 50, 1000, 10_000),
        (cents, rate) => {
          const values = cents.map((x) => x / 100);
          const rows = values.map((x, i) => `${(i / rate).toFixed(4)},${x.toFixed(2)}`);
          const { blocks } = read(`Time (s),T (°C)\n${rows.join('\n')}\n`);
          const plain = blocksOf(values, 1 / rate);
          expect(blocks.mean).toEqual(plain.mean);
          expect(blocks.cell).toEqual(plain.cell);
          expect(blocks.width).toBeCloseTo(plain.width, 15);
          // Times are written with decimals, i times the period is not: they differ by rounding alone.
          blocks.time.forEach((t, i) => {
            expect(Math.abs(t - (plain.time[i] ?? 0))).toBeLessThan(1e-13);
          });
        },
      ),
      { seed: 5, numRuns: 50 },
    );
  });
});
