import { describe, expect, test } from 'vitest';
import { type ClassRecording, classSummary, sameTraces, traceSketch } from '../../src/class/index.ts';
import { type Random, seededRandom } from '../../src/practice/random.ts';

const bodies: Readonly<Record<string, number>> = { 'brass-12': 40, 'aluminium-12': 30 };

/** A class whose groups scatter by 3 % and whose trials scatter by 1 % about them. */
function invented(
  random: Random,
  groups: number,
  offsets: Readonly<Record<string, number>> = {},
): ClassRecording[] {
  return Array.from({ length: groups }, (_, g) => g).flatMap((g) => {
    const group = `G${g + 1}`;
    const own = 0.03 * random.normal() + (offsets[group] ?? 0);
    return Object.entries(bodies).flatMap(([body, expected]) =>
      [1, 2].map((repeat): ClassRecording => {
        const value = expected * Math.exp(own + 0.01 * random.normal());
        return {
          path: `recordings/${group}/${body}-${repeat}.txt`,
          term: null,
          home: { section: null, bench: null },
          borrows: [],
          ambient: null,
          section: g % 2 === 0 ? 'A' : 'B',
          group,
          bench: `bench-${(g % 4) + 1}`,
          body,
          flow: '120',
          repeat,
          day: null,
          timeConstant: { value, own: 0.004, shared: 0.003, degreesOfFreedom: 50 },
          predicted: expected * 1.1,
          counts: true,
          reason: null,
          sha256: `${group}-${body}-${repeat}`,
          chain: 'type T, gain 200',
          sketch: null,
        };
      }),
    );
  });
}

describe('a class rolled up', () => {
  test('has the spread that it was made with', () => {
    const summary = classSummary(invented(seededRandom(5), 60));
    for (const { precision, groups, location, body } of summary.conditions) {
      expect(groups).toHaveLength(60);
      expect(precision?.repeatability).toBeCloseTo(0.01, 2);
      expect(Math.abs((precision?.reproducibility ?? 0) / 0.0316 - 1)).toBeLessThan(0.25);
      expect(Math.abs(location / (bodies[body] ?? 1) - 1)).toBeLessThan(0.015);
    }
    const group = summary.causes?.factors.find(({ factor }) => factor === 'group');
    expect(group?.deviation).toBeGreaterThan(0.02);
    expect(summary.causes?.residual).toBeCloseTo(0.01, 2);
    // Theory is 10 % off for all: that is no spread.
    expect(Math.exp(summary.causes?.mean ?? 0)).toBeCloseTo(1 / 1.1, 1);
  });

  test('asks a group to look again that is far off, in every condition and as a whole', () => {
    const summary = classSummary(invented(seededRandom(8), 12, { G7: 0.4 }));
    expect(new Set(summary.lookAgain.flatMap(({ groups }) => groups))).toEqual(new Set(['G7']));
    expect(summary.groups.find(({ group }) => group === 'G7')?.lookAgain).toBe(true);
    for (const { sentence } of summary.lookAgain) {
      expect(sentence).toMatch(/^Look again/);
      expect(sentence).not.toMatch(/wrong|error|mistake/i);
    }
  });

  test('says that three groups are too few, and is honest about one', () => {
    const summary = classSummary(invented(seededRandom(2), 3, { G2: 0.5 }));
    expect(summary.lookAgain).toEqual([]);
    expect(summary.conditions[0]?.sentence).toContain('too few');
    expect(classSummary(invented(seededRandom(2), 1)).conditions[0]?.sentence).toContain('One group alone');
  });

  test('leaves out what does not count, and says why', () => {
    const class12 = invented(seededRandom(3), 6).map((one, i) =>
      i === 0 ? { ...one, counts: false, reason: 'It must be repeated.' } : one,
    );
    const summary = classSummary(class12);
    expect(summary.counting).toBe(class12.length - 1);
    expect(summary.left).toEqual([{ path: class12[0]?.path, reason: 'It must be repeated.' }]);
  });

  test('names chains that are set differently from most', () => {
    const given = invented(seededRandom(4), 6).map((one, i) =>
      i === 3 ? { ...one, chain: 'type K, gain 200' } : one,
    );
    expect(classSummary(given).chains).toMatchObject([{ kind: 'set', paths: [given[3]?.path] }]);
  });

  test('is empty for an empty class', () => {
    expect(classSummary([])).toMatchObject({ recordings: 0, conditions: [], causes: null, lookAgain: [] });
  });
});

describe('one trace handed in twice', () => {
  /** Residuals with some memory, as a jet makes them. */
  function residuals(random: Random): { x: number; residual: number }[] {
    let last = 0;
    return Array.from({ length: 600 }, (_, i) => {
      last = 0.8 * last + 0.1 * random.normal();
      return { x: (2.3 * i) / 600, residual: last + 0.05 * random.normal() };
    });
  }

  function withSketch(
    path: string,
    group: string,
    points: { x: number; residual: number }[],
  ): ClassRecording {
    const [first] = invented(seededRandom(1), 1);
    if (first === undefined) throw new Error('the invented class is empty');
    return { ...first, path, group, sha256: path, sketch: traceSketch(points) };
  }

  test('is found by its bytes and by its shape, scaled and cut short', () => {
    const random = seededRandom(9);
    const own = residuals(random);
    const copy = own
      .filter(({ x }) => x < 1.7)
      .map(({ x, residual }) => ({ x, residual: 1.8 * residual + 0.001 }));
    const others = Array.from({ length: 40 }, (_, i) => withSketch(`other-${i}`, `G${i}`, residuals(random)));
    const class42 = [...others, withSketch('first', 'A', own), withSketch('second', 'B', copy)];
    const found = sameTraces(class42);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ paths: ['first', 'second'], by: 'shape', acrossGroups: true });
    const [one] = others;
    if (one === undefined) throw new Error('there are no others');
    expect(sameTraces([one, { ...one, path: 'again' }])).toMatchObject([
      { by: 'bytes', acrossGroups: false },
    ]);
  });

  /** Pearson's correlation by its definition, over the cells that both have. */
  function correlationOf(a: readonly number[], b: readonly number[]): number {
    const both = a.flatMap((x, i) =>
      Number.isFinite(x + (b[i] ?? Number.NaN)) ? [[x, b[i] ?? 0] as const] : [],
    );
    const mean = (k: 0 | 1) => both.reduce((sum, pair) => sum + pair[k], 0) / both.length;
    const [x, y] = [mean(0), mean(1)];
    const sum = (of: (pair: readonly [number, number]) => number) =>
      both.reduce((s, pair) => s + of(pair), 0);
    const spread = sum((pair) => (pair[0] - x) ** 2) * sum((pair) => (pair[1] - y) ** 2);
    return sum((pair) => (pair[0] - x) * (pair[1] - y)) / Math.sqrt(spread);
  }

  test.each([
    ['without anything missing', []],
    ['without its beginning', [0, 1, 2, 3]],
    ['without its end', [61, 62, 63]],
    ['with gaps between', [20, 21, 44]],
  ])('%s is found by the correlation of what is there', (_, missing) => {
    const random = seededRandom(11);
    const found = Array.from({ length: 60 }, (__, i) => {
      const first = withSketch('first', 'A', residuals(random));
      const own = withSketch('own', 'B', residuals(random)).sketch?.residuals ?? [];
      const part = i / 60;
      const mixed = own.map((x, k) => {
        const other = first.sketch?.residuals[k] ?? Number.NaN;
        return missing.includes(k) ? Number.NaN : (1 - part) * x + part * other + 3;
      });
      const second: ClassRecording = {
        ...first,
        path: 'second',
        group: 'B',
        sha256: 'second',
        sketch: { residuals: mixed },
      };
      const expected = correlationOf(first.sketch?.residuals ?? [], mixed);
      const [same] = sameTraces([first, second]);
      // The limit for one pair is that below which no two are ever taken for one.
      if (expected < 0.75) expect(same).toBeUndefined();
      if (expected > 0.9) expect(same).toBeDefined();
      if (same !== undefined) expect(same.correlation).toBeCloseTo(expected, 9);
      return same;
    });
    expect(found.filter((one) => one !== undefined).length).toBeGreaterThan(15);
  });

  test('is not seen in a hundred trials of their own', () => {
    const random = seededRandom(10);
    const trials = Array.from({ length: 100 }, (_, i) => withSketch(`t-${i}`, `G${i}`, residuals(random)));
    expect(sameTraces(trials)).toEqual([]);
  });
});
