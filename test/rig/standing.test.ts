import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  countingChecks,
  type RigCheck,
  type RigCheckKind,
  rigKinds,
  standingsOf,
} from '../../src/rig/index.ts';
import { check, day, minute, session, thornwick } from './thornwick.ts';

const course = thornwick();
const now = session + minute;

function standing(
  kind: RigCheckKind,
  checks: readonly RigCheck[],
  {
    bench = 'bench-1',
    subject = null,
    at = now,
    experiment = course,
  }: {
    bench?: string | null;
    subject?: string | null;
    at?: number;
    experiment?: ReturnType<typeof thornwick>;
  } = {},
) {
  const found = standingsOf(experiment, checks, at).find(
    (one) => one.kind === kind && one.bench === bench && one.subject === subject,
  );
  if (found === undefined) throw new Error(`there is no standing of ${kind}`);
  return found;
}

describe('what can be checked', () => {
  test('is everything that the experiment file describes, by bench, flow and body', () => {
    const all = standingsOf(course, [], now);
    const count = (kind: RigCheckKind) => all.filter((one) => one.kind === kind).length;
    // 4 benches, 2 flows, 5 bodies of which one was weighed, one air supply.
    expect(rigKinds.map(({ kind }) => [kind, count(kind)])).toEqual([
      ['zero', 4],
      ['gain', 4],
      ['ice-point', 4],
      ['jet-temperature', 4],
      ['flow', 8],
      ['supply-pressure', 1],
      ['diameter', 5],
      ['mass', 1],
    ]);
    expect(all.every(({ state, check: made }) => state === 'missing' && made === null)).toBe(true);
  });

  test('is one rig where no benches are listed, and nothing flows in still air', () => {
    const one = thornwick(
      ['benches: [bench-1, bench-2, bench-3, bench-4]\n', ''],
      ['120: 120 L/min', '120: still'],
      ...[1, 2, 3, 4].flatMap((n) => ['A', 'B', 'C'].map(() => [`, bench: bench-${n} }`, ' }'] as const)),
    );
    const all = standingsOf(one, [], now);
    expect(all.every(({ bench }) => bench === null)).toBe(true);
    expect(all.filter(({ kind }) => kind === 'flow').map(({ subject }) => subject)).toEqual(['60']);
  });
});

describe('limits', () => {
  // Twice the standard uncertainty that the experiment file states: common practice, no source.
  test.each([
    ['gain', null, 200, 0.4],
    ['ice-point', null, 0, 0.2],
    ['jet-temperature', null, 20.5, 2],
    // 2 % of the full scale of 200 L/min.
    ['flow', '60', 0.06 / 60, 0.004 / 60],
  ] as const)('of %s come from the experiment file', (kind, subject, expected, tolerance) => {
    const found = standing(kind, [], { subject });
    expect(found.expected).toBeCloseTo(expected, 12);
    expect(found.tolerance).toBeCloseTo(tolerance, 12);
    expect(found.source).toBe('experiment-file');
  });

  test.each([
    ['diameter', 0.012, 0.00004],
    ['mass', 0.00771, 0.00002],
  ] as const)('of a %s come from the experiment file', (kind, expected, tolerance) => {
    const found = standing(kind, [], { bench: null, subject: 'brass-12' });
    expect(found.expected).toBeCloseTo(expected, 12);
    expect(found.tolerance).toBeCloseTo(tolerance, 12);
  });

  test('of a supply are common practice where the file states no uncertainty, in absolute pressure', () => {
    const found = standing('supply-pressure', [], { bench: null });
    // 6 bar(g) over a room at 100.8 kPa, a tenth of it.
    expect(found.expected).toBeCloseTo(700_800, 6);
    expect(found.tolerance).toBeCloseTo(70_080, 6);
    expect(found.source).toBe('common-practice');
    expect(found.limitWords).toBe('6 bar(g) ± 0.70 bar');
  });

  test('come from the median of earlier checks where the file says nothing', () => {
    const silent = thornwick([
      '  zero: 1.3 mV                      # what the logger shows with the amplifier input shorted\n',
      '',
    ]);
    const at = (days: number) => new Date(session - days * day).toISOString();
    const checks = [
      check({ kind: 'zero', value: 1e-3, written: '1.0 mV', at: at(21) }),
      check({ kind: 'zero', value: 40e-3, written: '40 mV', at: at(14) }),
      check({ kind: 'zero', value: 1.2e-3, written: '1.2 mV', at: at(7) }),
      check({ kind: 'zero', value: 8e-3, written: '8 mV', at: at(0) }),
    ];
    const found = standing('zero', checks, { experiment: silent });
    expect(found).toMatchObject({ source: 'earlier-checks', expected: 1.2e-3, state: 'outside' });
    const first = standing('zero', checks.slice(0, 1), {
      experiment: silent,
      at: session - 21 * day + minute,
    });
    expect(first).toMatchObject({ expected: null, state: 'in-order' });
    expect(first.message).toContain('nothing yet to hold it against');
  });

  test('take a value that lies on them by its decimals', () => {
    const diameter = check({
      kind: 'diameter',
      value: 12.04e-3,
      written: '12.04 mm',
      bench: null,
      subject: 'brass-12',
    });
    const place = { bench: null, subject: 'brass-12' };
    expect(standing('diameter', [diameter], place).state).toBe('in-order');
    const wider = { ...diameter, value: 12.041e-3, written: '12.041 mm' };
    expect(standing('diameter', [wider], place)).toMatchObject({
      state: 'outside',
      message: 'Diameter of brass-12: 12.041 mm; it should be 12 mm ± 0.040 mm.',
    });
  });

  test('are said in the unit of the check, a gauge as a gauge', () => {
    const ice = check({ kind: 'ice-point', value: 0.5, written: '32.9 degF' });
    expect(standing('ice-point', [ice]).limitWords).toBe('32 °F ± 0.36 °F');
    const line = check({
      kind: 'supply-pressure',
      value: 6.5e5,
      written: '650 kPa(a)',
      bench: null,
    });
    expect(standing('supply-pressure', [line], { bench: null }).limitWords).toBe('701 kPa(a) ± 70 kPa');
  });
});

describe('how long a check is good for', () => {
  const zero = check({ kind: 'zero', value: 1.4e-3, written: '1.4 mV' });
  const gain = check({ kind: 'gain', value: 200.1, written: '200.1' });

  // The session of the example takes 110 min; with an hour before it: common practice, no source.
  test.each([
    [0, 'in-order'],
    [169, 'in-order'],
    [171, 'stale'],
  ])('a zero %d minutes later is %s', (minutes, state) => {
    expect(standing('zero', [zero], { at: session + minutes * minute }).state).toBe(state);
  });

  test.each([
    [100, 'in-order'],
    [190, 'stale'],
  ])('a gain %d days later is %s', (days, state) => {
    expect(standing('gain', [gain], { at: session + days * day }).state).toBe(state);
  });

  test('says how old it is and what to do', () => {
    const { message, mend } = standing('zero', [zero], { at: session + 7 * day });
    expect(message).toBe(
      'bench-1, zero with shorted input: 1.4 mV was found 7 days before, and a check is good for 3 hours.',
    );
    expect(mend).toContain('Short the input');
  });

  test('does not mend a check that failed: it stays outside until there is a better one', () => {
    const bad = { ...zero, value: 9e-3, written: '9 mV' };
    const later = session + 30 * day;
    expect(standing('zero', [bad], { at: later }).state).toBe('outside');
    const good = { ...zero, at: new Date(later).toISOString() };
    expect(standing('zero', [bad, good], { at: later + minute }).state).toBe('in-order');
  });
});

describe('which check counts', () => {
  const early = check({ kind: 'gain', value: 190, written: '190' });
  const late = check({
    kind: 'gain',
    value: 200,
    written: '200',
    at: new Date(session + 10 * minute).toISOString(),
  });

  test('is the latest by its own time, in whatever order they were typed', () => {
    const at = session + 20 * minute;
    expect(standing('gain', [late, early], { at }).check).toBe(late);
    expect(standing('gain', [early, late], { at }).check).toBe(late);
  });

  test('is never one that was made later', () => {
    expect(standing('gain', [late, early], { at: session + minute }).check).toBe(early);
  });

  test('is none that was taken back', () => {
    const book = {
      checks: [early, late],
      withdrawn: [{ id: late.id, at: late.at, who: 'IK', why: 'other bench' }],
    };
    expect(countingChecks(book)).toEqual([early]);
  });

  test('is that of the bench, and of the supply also one that all benches share', () => {
    expect(standing('gain', [early], { bench: 'bench-2' }).state).toBe('missing');
    const shared = check({ kind: 'supply-pressure', value: 7e5, written: '6.0 bar(g)', bench: null });
    const own = { ...shared, id: 'own', bench: 'bench-2', value: 5e5, written: '4.0 bar(g)' };
    expect(standing('supply-pressure', [shared, own], { bench: 'bench-1' }).check).toBe(shared);
    expect(standing('supply-pressure', [shared, own], { bench: 'bench-2' }).state).toBe('outside');
  });
});

describe('hostile checks', () => {
  test('never break the standings, and every one of them is said in a sentence', () => {
    const text = fc.string({ minLength: 1, maxLength: 60 });
    const any = fc.record({
      id: text,
      at: fc.date({ noInvalidDate: true }).map((one) => one.toISOString()),
      who: text,
      bench: fc.option(fc.oneof(text, fc.constantFrom('bench-1', 'bench-2'))),
      kind: fc.constantFrom(...rigKinds.map(({ kind }) => kind)),
      subject: fc.option(fc.oneof(text, fc.constantFrom('brass-12', '60', '__proto__', 'constructor'))),
      value: fc.double({ noNaN: true, min: -1e12, max: 1e12 }),
      written: text,
      note: text,
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 12 }), (checks) => {
        for (const one of standingsOf(course, checks, now)) {
          expect(one.message).toMatch(/\.$/);
          expect(one.message).not.toMatch(/NaN|null|undefined/);
          expect(one.mend === null).toBe(one.state === 'in-order');
        }
      }),
      { seed: 6, numRuns: 80 },
    );
  });
});
