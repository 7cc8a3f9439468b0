import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  cochranLimit,
  cochranTest,
  grubbsLimit,
  grubbsTest,
  mandelConsistency,
  oneWayPrecision,
} from '../../src/class/index.ts';
import { json, table } from '../reference/tables.ts';

interface Glucose {
  readonly materials: Readonly<Record<string, Readonly<Record<'mean' | 'sr' | 'sL' | 'sR', string>>>>;
  readonly printed: Readonly<Record<string, Readonly<Record<'mean' | 'sr' | 'sR', number>>>>;
  readonly mandel: readonly {
    readonly Material: string;
    readonly Lab: string;
    readonly h: string;
    readonly k: string;
  }[];
}

const glucose = json<Glucose>('glucose.json');

function laboratories(material: string): number[][] {
  const rows = table('glucose.csv').filter((row) => row.text('material') === material);
  const names = [...new Set(rows.map((row) => row.text('laboratory')))];
  return names.map((name) =>
    rows.filter((row) => row.text('laboratory') === name).map((row) => row.number('glucose')),
  );
}

describe('precision of groups of repeats', () => {
  // ASTM E691, the glucose example (see the file's head).
  test.each(['A', 'D', 'E'])('is that of the glucose example, material %s', (material) => {
    const found = oneWayPrecision(laboratories(material));
    const exact = glucose.materials[material];
    const printed = glucose.printed[material];
    expect(found.mean).toBeCloseTo(Number(exact?.mean), 9);
    expect(found.repeatability).toBeCloseTo(Number(exact?.sr), 9);
    expect(found.between).toBeCloseTo(Number(exact?.sL), 9);
    expect(found.reproducibility).toBeCloseTo(Number(exact?.sR), 9);
    expect(Math.abs(found.reproducibility - (printed?.sR ?? 0))).toBeLessThan(1e-3);
  });

  test.each(['A', 'D', 'E'])('has the consistency of the glucose example, material %s', (material) => {
    const found = mandelConsistency(laboratories(material));
    const rows = glucose.mandel.filter((row) => row.Material === material);
    rows.forEach((row, i) => {
      expect(found?.h[i]).toBeCloseTo(Number(row.h), 9);
      expect(found?.k[i]).toBeCloseTo(Number(row.k), 9);
    });
    // ASTM E691, table 5: eight laboratories of three results: h 2.15, k 2.06 (from memory).
    expect(found?.hLimit).toBeCloseTo(2.15, 2);
    expect(found?.kLimit).toBeCloseTo(2.06, 2);
  });

  test('goes with the scale, not with the origin, whatever the numbers of repeats', () => {
    const groups = fc.array(
      fc.array(
        fc.integer({ min: -1000, max: 1000 }).map((n) => n / 100),
        { minLength: 1, maxLength: 5 },
      ),
      {
        minLength: 2,
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(groups, fc.double({ min: 0.5, max: 20, noNaN: true }), (given, factor) => {
        const before = oneWayPrecision(given);
        const after = oneWayPrecision(given.map((group) => group.map((x) => 100 + factor * x)));
        expect(after.reproducibility).toBeCloseTo(factor * before.reproducibility, 6);
        expect(after.between).toBeCloseTo(factor * before.between, 5);
      }),
    );
  });

  test('with single results holds all of the spread between groups', () => {
    const found = oneWayPrecision([[1], [2], [4]]);
    expect(found.repeatability).toBeNull();
    expect(found.reproducibility).toBeCloseTo(Math.sqrt(7 / 3), 12);
  });
});

describe('tests for what does not go with the others', () => {
  test("have Grubbs' critical values", () => {
    for (const row of table('grubbs.csv')) {
      expect(grubbsLimit(row.number('n'), 0.05)).toBeCloseTo(row.number('two-and-a-half'), 5);
      expect(grubbsLimit(row.number('n'), 0.01)).toBeCloseTo(row.number('half'), 5);
    }
  });

  test("have Cochran's critical values", () => {
    for (const row of table('cochran.csv')) {
      const [groups, repeats] = [row.number('p_labs'), row.number('n_replicates')];
      expect(cochranLimit(groups, repeats, 0.05)).toBeCloseTo(row.number('C_5pct'), 4);
      expect(cochranLimit(groups, repeats, 0.01)).toBeCloseTo(row.number('C_1pct'), 4);
    }
  });

  test('name the one that they look at', () => {
    expect(grubbsTest([1, 1.1, 0.9, 1, 5])?.index).toBe(4);
    expect(cochranTest([0.1, 0.1, 4, 0.2], 3)).toMatchObject({ index: 2 });
    expect(grubbsTest([2, 2, 2])).toBeNull();
    expect(cochranTest([0, 0], 2)).toBeNull();
  });
});
