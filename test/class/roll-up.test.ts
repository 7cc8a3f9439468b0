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

  test('is not seen in a hundred trials of their own', () => {
    const random = seededRandom(10);
    const trials = Array.from({ length: 100 }, (_, i) => withSketch(`t-${i}`, `G${i}`, residuals(random)));
    expect(sameTraces(trials)).toEqual([]);
  });
});
