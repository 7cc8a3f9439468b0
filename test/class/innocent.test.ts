import { describe, expect, test } from 'vitest';
import { conditionSummaries } from '../../src/class/conditions.ts';
import { groupDepartures } from '../../src/class/departures.ts';
import { type ClassRecording, classSummary } from '../../src/class/index.ts';
import { knowledgeFrom, noKnowledge } from '../../src/class/knowledge.ts';
import { type Counting, isCounting } from '../../src/class/recording.ts';
import { type Random, seededRandom } from '../../src/practice/random.ts';

const bodies: Readonly<Record<string, number>> = { 'brass-12': 40, 'brass-20': 90, 'aluminium-12': 30 };

interface Wanted {
  readonly groups: number;
  readonly term?: string;
  /** What ln tau of a recording is moved by. */
  readonly moved?: (one: { group: string; bench: string; body: string }) => number;
}

/** A class whose groups scatter by 3 %, and trials by 1 % about them; what is moved comes on top. */
function invented(random: Random, { groups, term, moved = () => 0 }: Wanted): ClassRecording[] {
  return Array.from({ length: groups }, (_, g) => g).flatMap((g) => {
    const [group, bench] = [`G${g + 1}`, `bench-${(g % 4) + 1}`];
    const own = 0.03 * random.normal();
    return Object.entries(bodies).flatMap(([body, expected]) =>
      [1, 2].map((repeat): ClassRecording => {
        const value = expected * Math.exp(own + 0.01 * random.normal() + moved({ group, bench, body }));
        return {
          path: `recordings/${group}/${body}-${repeat}.txt`,
          term: term ?? null,
          section: g % 2 === 0 ? 'A' : 'B',
          group,
          bench,
          home: { section: null, bench: null },
          borrows: [],
          body,
          flow: '120',
          repeat,
          day: null,
          timeConstant: { value, own: 0.004, shared: 0.003, degreesOfFreedom: 50 },
          predicted: expected * 1.1,
          counts: true,
          reason: null,
          sha256: `${term} ${group} ${body} ${repeat}`,
          chain: 'type T, gain 200',
          ambient: null,
          sketch: null,
        };
      }),
    );
  });
}

/** Whether anybody is asked to look again, as the roll-up asks. */
function asks(class1: readonly ClassRecording[], knowledge = noKnowledge): boolean {
  const counting: Counting[] = class1.filter(isCounting);
  const level = 0.05 / (Object.keys(bodies).length + 1);
  const conditions = conditionSummaries(counting, new Set(), knowledge, level);
  const groups = groupDepartures(counting, conditions, level);
  return (
    conditions.some(({ groups: own }) => own.some(({ lookAgain }) => lookAgain)) ||
    groups.some(({ lookAgain }) => lookAgain)
  );
}

/** How many of so many classes ask somebody. */
function asked(classes: number, make: (random: Random) => boolean): number {
  const random = seededRandom(99);
  return Array.from({ length: classes }, () => make(random)).filter(Boolean).length;
}

describe('an innocent class', () => {
  // One in twenty is promised: more than 18 of 200 would be seen once in 250 times (binomial).
  test.each([6, 8, 12, 24])('of %d groups rarely has anybody asked to look again', (groups) => {
    expect(asked(200, (random) => asks(invented(random, { groups })))).toBeLessThanOrEqual(18);
  });

  test.each([3, 5, 12])('of %d groups has rarely, by the spread of earlier terms', (groups) => {
    const earlier = (random: Random) => [
      ...invented(random, { groups: 10, term: 'autumn' }),
      ...invented(random, { groups: 10, term: 'spring' }),
    ];
    const count = asked(200, (random) => asks(invented(random, { groups }), knowledgeFrom(earlier(random))));
    expect(count).toBeLessThanOrEqual(18);
  });
});

describe('what was planted', () => {
  test('is found: a group that lies off by half as much again', () => {
    const found = asked(50, (random) =>
      asks(invented(random, { groups: 12, moved: ({ group }) => (group === 'G3' ? 0.4 : 0) })),
    );
    expect(found).toBe(50);
  });

  test('is found in a class of four, by what earlier terms tell', () => {
    const random = seededRandom(4);
    const small = invented(random, { groups: 4, moved: ({ group }) => (group === 'G3' ? 0.4 : 0) });
    const earlier = invented(random, { groups: 12, term: 'autumn' });
    const alone = classSummary(small);
    expect(alone.lookAgain).toEqual([]);
    expect(alone.conditions[0]?.sentence).toContain('too few');
    const told = classSummary(small, { earlier, beside: [], candidates: [] });
    expect(new Set(told.lookAgain.flatMap(({ groups }) => groups))).toEqual(new Set(['G3']));
    expect(told.conditions[0]).toMatchObject({ spread: 'earlier-terms', earlier: { groups: 12, terms: 1 } });
    expect(told.earlier).toEqual({ terms: ['autumn'], recordings: earlier.length });
  });

  test('is found: a bench that is off, by its size and with its name', () => {
    const random = seededRandom(6);
    const moved = ({ bench }: { bench: string }) => (bench === 'bench-2' ? -0.12 : 0);
    const { causes } = classSummary(invented(random, { groups: 24, moved }));
    const bench = causes?.factors.find(({ factor }) => factor === 'bench');
    expect(bench?.shows).toBe(true);
    expect(bench?.effects[0]?.level).toBe('bench-2');
    // About the mean of the four benches, of which it is one.
    expect(bench?.effects[0]?.effect).toBeCloseTo(-0.09, 1);
    // Standard deviation of 0, 0, 0 and −0.12.
    const [low, high] = bench?.interval ?? [1, 0];
    expect(low).toBeLessThan(0.06);
    expect(high ?? 1).toBeGreaterThan(0.06);
    expect(causes?.sentence).toContain('bench-2');
  });

  test('is told as one where section and day cannot be told apart', () => {
    const random = seededRandom(7);
    const class1 = invented(random, { groups: 8 }).map((one) => ({
      ...one,
      day: one.section === 'A' ? '2026-10-05' : '2026-10-06',
    }));
    const { causes } = classSummary(class1);
    expect(causes?.alike).toEqual([['section', 'day']]);
    expect(causes?.factors.map(({ factor }) => factor)).not.toContain('day');
  });
});

describe('a roster that does not hold', () => {
  const [base] = invented(seededRandom(1), { groups: 1 });
  if (base === undefined) throw new Error('the invented class is empty');
  const one = (change: Partial<ClassRecording>): ClassRecording => ({
    ...base,
    home: { section: 'A', bench: 'bench-1' },
    day: '2026-10-05',
    ...change,
  });

  test('names guests, other benches and make-up sessions, and counts them all', () => {
    const usual = Array.from({ length: 5 }, (_, i) => one({ path: `usual-${i}`, sha256: `usual-${i}` }));
    const class1 = [
      ...usual,
      one({ path: 'guest', sha256: 'guest', group: 'B7', home: { section: 'B', bench: 'bench-1' } }),
      one({ path: 'moved', sha256: 'moved', bench: 'bench-3' }),
      one({ path: 'late', sha256: 'late', day: '2026-10-12' }),
    ];
    const { visits, counting } = classSummary(class1);
    expect(visits.map(({ kind, paths }) => [kind, paths])).toEqual([
      ['guest', ['guest']],
      ['other-bench', ['moved']],
      ['make-up', ['late']],
    ]);
    expect(counting).toBe(class1.length);
  });

  test('takes lent data for lent, and handed-on data for something to look at', () => {
    const copy = { path: 'copy', group: 'G2', counts: false, reason: 'a copy' };
    const lent = classSummary([one({}), one({ ...copy, borrows: ['G1'] })]);
    expect(lent.sameTraces).toMatchObject([{ borrowed: true, by: 'bytes' }]);
    expect(lent.lookAgain).toEqual([]);
    const handedOn = classSummary([one({}), one(copy)]);
    expect(handedOn.lookAgain).toMatchObject([{ kind: 'same-trace', groups: ['G1', 'G2'] }]);
  });

  test('warns where a section is so small that a code is a person', () => {
    expect(classSummary(invented(seededRandom(2), { groups: 4 })).privacy).toContain('fewer than 5 groups');
    expect(classSummary(invented(seededRandom(2), { groups: 12 })).privacy).toBeNull();
  });
});
