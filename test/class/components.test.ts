import { describe, expect, test } from 'vitest';
import { oneWayPrecision, varianceComponents } from '../../src/class/index.ts';
import { seededRandom } from '../../src/practice/random.ts';

// Yield of dyestuff from six batches, five samples each: Davies & Goldsmith, Statistical Methods in Research and
// Production, 4th ed. (1972), table 6.2 (data from memory).
const batches = [
  [1545, 1440, 1440, 1520, 1580],
  [1540, 1555, 1490, 1560, 1495],
  [1595, 1550, 1605, 1510, 1560],
  [1445, 1440, 1595, 1465, 1545],
  [1595, 1630, 1515, 1635, 1625],
  [1520, 1455, 1450, 1480, 1445],
];
const dyestuff = batches.flatMap((batch, i) =>
  batch.map((value) => ({ value, levels: { batch: String(i), all: 'one' } })),
);

describe('variance components', () => {
  test('of the dyestuff example are those of its analysis of variance', () => {
    // Between batches 42.0, within 49.5: Davies & Goldsmith, 6.4 (from memory).
    const found = varianceComponents(dyestuff, ['batch', 'all']);
    expect(found?.factors.map(({ factor }) => factor)).toEqual(['batch']);
    expect(found?.factors[0]?.deviation).toBeCloseTo(42.0, 1);
    expect(found?.residual).toBeCloseTo(49.51, 2);
    expect(found?.mean).toBeCloseTo(1527.5, 6);
    const anova = oneWayPrecision(batches);
    expect(found?.factors[0]?.deviation).toBeCloseTo(anova.between, 3);
  });

  test('find a bench that is off, and nothing where there is nothing', () => {
    const random = seededRandom(3);
    const normal = () => random.normal();
    const offsets = [0, 0.01, -0.08, 0.09, -0.01, 0.02];
    const results = Array.from({ length: 240 }, (_, i) => {
      const bench = i % 6;
      const section = Math.floor(i / 80);
      return {
        value: (offsets[bench] ?? 0) + 0.03 * normal(),
        levels: { bench: `bench-${bench}`, section: `S${section}`, group: `S${section}/${i % 20}` },
      };
    });
    const found = varianceComponents(results, ['bench', 'section', 'group']);
    const of = (name: string) => found?.factors.find(({ factor }) => factor === name);
    const truth = Math.sqrt(offsets.reduce((sum, x) => sum + (x - 0.005) ** 2, 0) / 5);
    expect(Math.abs((of('bench')?.deviation ?? 0) / truth - 1)).toBeLessThan(0.15);
    expect(of('bench')?.evidence).toBeGreaterThan(50);
    expect(of('section')?.deviation).toBeLessThan(0.01);
    expect(found?.residual).toBeCloseTo(0.03, 2);
    const shares = found?.factors.reduce((sum, { share }) => sum + share, 0) ?? 2;
    expect(shares).toBeLessThanOrEqual(1);
  });

  test('have intervals that cover the truth about as often as they say', () => {
    const random = seededRandom(12);
    const covered = Array.from({ length: 100 }, () => {
      const offsets = Array.from({ length: 8 }, () => 0.05 * random.normal());
      const results = offsets.flatMap((offset, bench) =>
        Array.from({ length: 6 }, (_, i) => ({
          value: offset + 0.03 * random.normal(),
          levels: { bench: String(bench), body: String(i % 2) },
        })),
      );
      const bench = varianceComponents(results, ['bench', 'body'])?.factors[0];
      const [low, high] = bench?.interval ?? [1, 0];
      return low <= 0.05 && (high === null || high >= 0.05);
    }).filter(Boolean).length;
    // 95 % are claimed; fewer than 88 of 100 would be seen once in 500 times (binomial).
    expect(covered).toBeGreaterThanOrEqual(88);
  });

  test('do not hang on origin and scale', () => {
    const before = varianceComponents(dyestuff, ['batch']);
    const after = varianceComponents(
      dyestuff.map(({ value, levels }) => ({ value: 2 * value + 1e4, levels })),
      ['batch'],
    );
    expect(after?.factors[0]?.deviation).toBeCloseTo(2 * (before?.factors[0]?.deviation ?? 0), 2);
    expect(after?.factors[0]?.share).toBeCloseTo(before?.factors[0]?.share ?? 0, 4);
  });

  test('are null where there is nothing to say', () => {
    expect(varianceComponents(dyestuff.slice(0, 2), ['batch'])).toBeNull();
    expect(
      varianceComponents(
        Array.from({ length: 5 }, () => ({ value: 1, levels: {} })),
        [],
      ),
    ).toBeNull();
  });
});
