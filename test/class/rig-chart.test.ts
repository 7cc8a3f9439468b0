import { describe, expect, test } from 'vitest';
import { followedKind, type RigTerm, rigChangeRemark, rigCharts, rigSeries } from '../../src/class/index.ts';
import { seededRandom } from '../../src/practice/random.ts';
import type { ReferenceRun, RigCheck } from '../../src/rig/index.ts';

const day = 86_400_000;
const first = Date.parse('2025-09-29T09:00:00Z');

function run(week: number, ratio: number, given: Partial<ReferenceRun> = {}): ReferenceRun {
  return {
    id: `r${week}`,
    at: new Date(first + 7 * day * week).toISOString(),
    who: 'IK',
    term: 't',
    bench: 'bench-2',
    recording: `reference/${week}.txt`,
    sha256: 'a'.repeat(64),
    body: 'brass-12',
    flow: '120',
    timeConstant: 40 * ratio,
    standardUncertainty: 0.3,
    interval: [39, 41],
    expected: { value: 40, relative: 0.15, source: 'prediction' },
    note: '',
    ...given,
  };
}

function zero(session: number, value: number, given: Partial<RigCheck> = {}): RigCheck {
  return {
    id: `c${session}`,
    at: new Date(first + day * session).toISOString(),
    who: 'IK',
    bench: 'bench-1',
    kind: 'zero',
    subject: null,
    value,
    written: `${value} V`,
    note: '',
    ...given,
  };
}

const term = (given: Partial<RigTerm>): RigTerm => ({ term: 't', checks: [], runs: [], ...given });

function chartOf(terms: readonly RigTerm[]) {
  const [chart, ...more] = rigCharts(rigSeries(terms));
  if (chart === undefined || more.length > 0) throw new Error(`${more.length + 1} charts`);
  return chart;
}

describe('what is followed of a rig', () => {
  test('is put together over the terms, a series a bench and thing, by time', () => {
    const later = term({ term: 'b', checks: [zero(9, 0.002), zero(8, 0.001)], runs: [run(3, 1)] });
    const before = term({
      term: 'a',
      checks: [zero(1, 0.003), zero(1, 0.1, { kind: 'mass', bench: null, subject: 'brass-12' })],
      runs: [run(1, 1.1), run(2, 1, { bench: 'bench-10' }), run(2, 1, { flow: '60' })],
    });
    const series = rigSeries([later, before]);
    expect(series.map(({ kind, bench, subject, points }) => [kind, bench, subject, points.length])).toEqual([
      ['reference', 'bench-2', 'brass-12 in 60', 1],
      ['reference', 'bench-2', 'brass-12 in 120', 2],
      ['reference', 'bench-10', 'brass-12 in 120', 1],
      ['zero', 'bench-1', null, 3],
    ]);
    expect(series[1]?.points.map(({ value, term: of }) => [value, of])).toEqual([
      [1.1, 'a'],
      [1, 'b'],
    ]);
    expect(series[3]?.points.map(({ value }) => value)).toEqual([0.003, 0.001, 0.002]);
  });

  test('is held over the mean of the series where nothing could be predicted', () => {
    const untold = { expected: null };
    const bench = { expected: { value: 1, relative: 0.03, source: 'bench-mean' } } as const;
    const [series] = rigSeries([term({ runs: [run(1, 0.9, untold), run(2, 1 / 0.9, bench)] })]);
    // 36 and 44.4 have the geometric mean 40.
    expect(series?.points.map(({ value }) => value)).toEqual([
      expect.closeTo(0.9, 12),
      expect.closeTo(1 / 0.9, 12),
    ]);
  });
});

describe('limits', () => {
  // NIST/SEMATECH e-Handbook, 6.3.2.2: flow rates of ten batches, limits 45.82 to 55.80 about 50.81.
  const batches = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

  test('are those of the handbook, and provisional while they rest on few values', () => {
    const chart = chartOf([term({ checks: batches.map((value, i) => zero(i, value)) })]);
    expect(chart.limits?.centre).toBeCloseTo(50.81, 2);
    expect(chart.limits?.lower).toBeCloseTo(45.8159, 3);
    expect(chart).toMatchObject({ limitsFrom: 10, provisional: true, outside: [], change: null, look: null });
    // 1/√(2 × 0.62 × 9) (Wheeler, Quality Digest, June 1997).
    expect(chart.doubt).toBeCloseTo(0.299, 3);
    expect(chart.sentence).toContain(
      'steady over 10 values; its limits are provisional, from 10 values, and known to 30 %',
    );
    expect(rigChangeRemark(chart)).toBeNull();
  });

  test('are not made from fewer than six values, nor from values that are all alike', () => {
    const few = chartOf([term({ checks: batches.slice(0, 5).map((value, i) => zero(i, value)) })]);
    expect(few).toMatchObject({ limits: null, averages: null, look: null });
    expect(few.finding).toBe('5 values: limits need 6.');
    expect(few.sentence).toContain('5 values: limits need 6');
    const alike = chartOf([term({ checks: batches.map((_, i) => zero(i, 0.0013)) })]);
    expect(alike).toMatchObject({ limits: null, change: null, look: null });
    expect(alike.sentence).toContain('all 10 values are the same');
  });

  test('are those of before a step, and say since when', () => {
    const random = seededRandom(7);
    const values = Array.from({ length: 20 }, (_, i) => (i < 12 ? 0.001 : 0.004) + 2e-4 * random.normal());
    const chart = chartOf([term({ checks: values.map((value, i) => zero(i, value)) })]);
    expect(chart.change).toMatchObject({ kind: 'step', index: 12 });
    expect(chart.limitsFrom).toBe(12);
    expect(Math.abs((chart.limits?.centre ?? 0) - 0.001)).toBeLessThan(2e-4);
    expect(chart.outside).toEqual([12, 13, 14, 15, 16, 17, 18, 19]);
    expect(chart.sentence).toMatch(
      /^Bench-1, zero with shorted input: since 2025-10-11 it lies [23]\.\d mV higher than up to 2025-10-10 \(step\)\.$/,
    );
    expect(rigChangeRemark(chart)).toEqual({
      code: 'rig-changed',
      severity: 'caution',
      message: chart.sentence,
      action: followedKind('zero').look,
    });
  });

  test('see a nozzle that clogs as a drift of the time constant', () => {
    const random = seededRandom(3);
    const runs = Array.from({ length: 12 }, (_, i) => run(i, 1.02 ** i * (1 + 0.005 * random.normal())));
    const chart = chartOf([term({ runs })]);
    expect(chart.change?.kind).toBe('drift');
    expect(chart.sentence).toMatch(/from 2025-09-29 to 2025-12-15 it rises by 2\d % \(drift\)/);
    expect(chart.look).toContain('nozzle');
  });

  test('seldom accuse a rig that does not change', () => {
    const random = seededRandom(11);
    let accused = 0;
    const charts = 400;
    for (let i = 0; i < charts; i += 1) {
      const checks = Array.from({ length: 16 }, (_, k) => zero(k, 0.001 + 1e-4 * random.normal()));
      if (chartOf([term({ checks })]).change !== null) accused += 1;
    }
    // At most 3 in 100 by construction of the limits of a change.
    expect(accused / charts).toBeLessThan(0.05);
  });
});
