import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { algorithmA, lookAgainLimit, scoreGroups } from '../../src/class/index.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { json } from '../reference/tables.ts';

interface Cases {
  readonly cases: readonly {
    readonly name: string;
    readonly data: readonly number[];
    readonly location: number;
    readonly scale: number;
    readonly printed: { readonly location: number; readonly scale: number } | null;
  }[];
}

const { cases } = json<Cases>('robust.json');

describe('Algorithm A', () => {
  // The start's 1.483 of the standard is 1.4826 here; it leaves the end as it is.
  test.each(cases)('gives what $name gives', ({ data, location, scale, printed }) => {
    const found = algorithmA(data);
    expect(found.location).toBeCloseTo(location, 7);
    expect(Math.abs(found.scale / scale - 1)).toBeLessThan(1e-6);
    if (printed !== null) expect(Math.abs(found.scale / printed.scale - 1)).toBeLessThan(2e-3);
  });

  test('follows the origin and the scale of the results', () => {
    // Hundredths: numbers next to each other's rounding have no scale of their own.
    const hundredths = fc.integer({ min: -500, max: 500 }).map((n) => n / 100);
    const results = fc.array(hundredths, { minLength: 3, maxLength: 20 });
    fc.assert(
      fc.property(results, (given) => {
        const before = algorithmA(given);
        const after = algorithmA(given.map((x) => 3 * x + 7));
        expect(after.location).toBeCloseTo(3 * before.location + 7, 6);
        expect(after.scale).toBeCloseTo(3 * before.scale, 6);
      }),
    );
  });

  test('is hardly moved by one wild result', () => {
    const calm = [9.8, 9.9, 10, 10, 10.1, 10.2, 10.05, 9.95];
    expect(algorithmA([...calm, 1000]).location).toBeLessThan(10.15);
  });

  test('refuses what is no number', () => {
    expect(() => algorithmA([])).toThrow(RangeError);
    expect(() => algorithmA([1, Number.NaN])).toThrow(RangeError);
  });
});

describe('asking groups to look again', () => {
  function normals(random: () => number, count: number): number[] {
    return Array.from(
      { length: count },
      () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()),
    );
  }

  test.each([6, 8, 11, 16, 24, 35])('leaves nearly every innocent class of %i alone', (count) => {
    const random = seededRandom(count);
    const classes = 1500;
    let asked = 0;
    for (let i = 0; i < classes; i++) {
      const found = scoreGroups(normals(() => random.uniform(), count));
      if (found.groups.some(({ lookAgain }) => lookAgain)) asked += 1;
    }
    // One in twenty, with what chance allows 1500 classes (three standard deviations).
    expect(asked / classes).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / classes));
    expect(asked / classes).toBeGreaterThan(0.025);
  });

  test('leaves an innocent class alone that is judged by earlier terms', () => {
    const random = seededRandom(7);
    const classes = 2000;
    let asked = 0;
    for (let i = 0; i < classes; i++) {
      // A spread known with 12 degrees of freedom is itself a draw of chance.
      const squares = normals(() => random.uniform(), 12).reduce((sum, x) => sum + x * x, 0);
      const known = { deviation: Math.sqrt(squares / 12), degreesOfFreedom: 12 };
      const found = scoreGroups(
        normals(() => random.uniform(), 5),
        known,
      );
      if (found.groups.some(({ lookAgain }) => lookAgain)) asked += 1;
    }
    expect(asked / classes).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / classes));
  });

  test('singles nobody out of five without knowing the spread, and does with it', () => {
    const results = [0, 0.01, -0.01, 0.005, 0.4];
    expect(lookAgainLimit(5)).toBeNull();
    expect(scoreGroups(results).groups.some(({ lookAgain }) => lookAgain)).toBe(false);
    const known = { deviation: 0.03, degreesOfFreedom: 20 };
    expect(scoreGroups(results, known).groups.map(({ lookAgain }) => lookAgain)).toEqual([
      false,
      false,
      false,
      false,
      true,
    ]);
  });

  test('has limits that rise with the class', () => {
    const limits = Array.from({ length: 200 }, (_, i) => lookAgainLimit(i + 6) ?? 0);
    limits.forEach((limit, i) => {
      if (i > 0) expect(limit).toBeGreaterThanOrEqual((limits[i - 1] ?? 0) - 1e-9);
    });
  });
});
