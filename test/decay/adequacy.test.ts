import { describe, expect, it } from 'vitest';
import { type Adequacy, fitDecay, judgeAdequacy, oneExponentialRatio } from '../../src/decay/index.ts';
import { json, table } from '../reference/tables.ts';
import {
  hotAir,
  rateChange,
  type Scenario,
  scenario,
  simulate,
  sphereCentre,
  twoExponentials,
} from './simulated.ts';

const calm: Scenario = { ...scenario, correlated: [[0.3, 0.5]], offset: 0.35, drift: 0.5 / 600 };
const silent: Scenario = { ...scenario, white: 0.002 };

function judged(s: Scenario, seed: number, blocks = 300): Adequacy {
  const input = simulate(s, seed, blocks);
  const fit = fitDecay(input);
  if (fit.kind === 'failed') throw new Error(fit.message);
  return judgeAdequacy({ fit, early: { heatOff: input.heatOff, ...input.early } });
}

function many(s: Scenario, count = 40): readonly Adequacy[] {
  return Array.from({ length: count }, (_, k) => judged(s, 3000 + k));
}

function failing(list: readonly Adequacy[], name: string): number {
  return list.filter((a) => a.tests.some((test) => test.name === name && test.fails)).length / list.length;
}

describe('the sphere that the tests are tried on', () => {
  it('has the first coefficient and the course of the published series', () => {
    for (const row of table('sphere-first-term.csv')) {
      const shape = sphereCentre(row.number('biot'));
      expect(shape(8) * Math.exp(8)).toBeCloseTo(row.number('c1'), 8);
    }
    const zeta = new Map(
      table('sphere-first-term.csv').map((row) => [row.text('biot'), row.number('zeta1')]),
    );
    for (const row of table('sphere-centre.csv')) {
      const z = zeta.get(row.text('biot')) ?? Number.NaN;
      const centre = sphereCentre(row.number('biot'))(row.number('fourier') * z * z);
      expect(centre).toBeCloseTo(row.number('centre'), 9);
    }
  });
});

describe('one exponential', () => {
  it('passes, and says what would have shown', () => {
    const adequacy = judged(calm, 5);
    expect(adequacy).toMatchObject({ firstOrder: true, kind: null });
    expect(adequacy.tests.map((test) => test.name)).toEqual([
      'curvature',
      'second-exponential',
      'back-extrapolation',
      'early-against-late',
      'ratio-90-to-50',
    ]);
    expect(adequacy.sentence).toMatch(/^One exponential describes the cooling; of a second exponential/);
    expect(adequacy.visibleShare?.slow).toBeLessThan(0.1);
  });

  it('takes log2(10) times as long to 90 % of its fall as to 50 %', () => {
    const { t90_over_t50: ratio } = json<{ t90_over_t50: string }>('response-time.json');
    expect(oneExponentialRatio).toBeCloseTo(Number(ratio), 12);
    const adequacy = judged(silent, 1, 1000);
    expect(adequacy.ratio90to50?.from).toBe('heat-off');
    expect(adequacy.ratio90to50?.value).toBeCloseTo(oneExponentialRatio, 3);
    expect(adequacy.earlyOverLate?.value).toBeCloseTo(1, 3);
    expect(adequacy.backExtrapolation?.value).toBeCloseTo(0, 3);
  });

  it('has statistics with a spread of one', () => {
    const list = many({ ...scenario, correlated: [[0.3, 0.5]], offset: 0.3, drift: 0.5 / 600 }, 100);
    for (const name of ['curvature', 'early-against-late']) {
      const values = list.map((a) => a.tests.find((test) => test.name === name)?.statistic ?? Number.NaN);
      const rms = Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
      expect(rms, name).toBeGreaterThan(0.8);
      expect(rms, name).toBeLessThan(1.2);
    }
    const back = list.map(
      (a) => (a.backExtrapolation?.value ?? 0) / (a.backExtrapolation?.standardUncertainty ?? 0),
    );
    expect(Math.sqrt(back.reduce((sum, v) => sum + v * v, 0) / back.length)).toBeGreaterThan(0.75);
    expect(Math.sqrt(back.reduce((sum, v) => sum + v * v, 0) / back.length)).toBeLessThan(1.2);
  });
});

describe('a body that is not lumped', () => {
  it('is found by carrying the fit back to the heat going off, at Bi 0.3', () => {
    const list = many({ ...calm, shape: sphereCentre(0.3) });
    expect(failing(list, 'back-extrapolation')).toBeGreaterThanOrEqual(0.95);
    expect(list.every((a) => a.kind === 'delay-or-inner-conduction')).toBe(true);
    expect(list[0]?.sentence).toMatch(
      /lies \d.* % above the reading, a delay of \d.* s\. The sensor answers late/,
    );
  });

  it.each([0.1, 0.2, 0.3])('shows the first coefficient of the series, Bi %d', (biot) => {
    const row = table('sphere-first-term.csv').find((r) => r.number('biot') === biot);
    const adequacy = judged({ ...silent, shape: sphereCentre(biot) }, 2, 1000);
    // The reading is averaged over the first 0.02 time constants, in which the centre has not moved yet.
    const expected = Math.log(row?.number('c1') ?? Number.NaN) - 0.01;
    expect(adequacy.backExtrapolation?.value).toBeGreaterThan(expected - 0.003);
    expect(adequacy.backExtrapolation?.value).toBeLessThan(expected + 0.003);
  });

  it('has the t90/t50 of the series', () => {
    const shape = sphereCentre(0.3);
    const when = (level: number) => {
      let low = 0;
      let high = 10;
      for (let i = 0; i < 60; i++) {
        const x = (low + high) / 2;
        if (shape(x) > level) low = x;
        else high = x;
      }
      return low;
    };
    const adequacy = judged({ ...silent, shape }, 3, 1000);
    // The clock starts at the middle of the first 0.02 time constants.
    const expected = (when(0.1) - 0.01) / (when(0.5) - 0.01);
    expect(adequacy.ratio90to50?.value).toBeGreaterThan(expected - 0.005);
    expect(adequacy.ratio90to50?.value).toBeLessThan(expected + 0.005);
    expect(adequacy.ratio90to50?.value).toBeLessThan(oneExponentialRatio - 0.15);
  });
});

describe('other departures', () => {
  const kinds: readonly [string, Scenario, string, number][] = [
    [
      '10 % with a fifth of the time constant',
      { ...calm, shape: twoExponentials(0.1, 0.2) },
      'fast-early-component',
      0.95,
    ],
    [
      '10 % with three times the time constant',
      { ...calm, shape: twoExponentials(0.1, 3) },
      'slow-second-path',
      0.95,
    ],
    ['a jet that turns up by a tenth', { ...calm, shape: rateChange(1, 0.1) }, 'jet-changed', 0.9],
    [
      'hot air that lingers half as long as a bead answers',
      {
        ...calm,
        timeConstant: 1,
        length: 8,
        rate: 1000,
        correlated: [[0.3, 0.1]],
        drift: 0,
        shape: hotAir(0.5),
      },
      'delay-or-inner-conduction',
      0.95,
    ],
  ];
  it.each(kinds)('are found and named: %s', (_name, s, kind, least) => {
    const list = many(s, 30);
    expect(list.filter((a) => a.firstOrder === false).length / list.length).toBeGreaterThanOrEqual(0.95);
    expect(list.filter((a) => a.kind === kind).length / list.length).toBeGreaterThanOrEqual(least);
  });

  it('are found by the time constant of the first half against the rest', () => {
    const list = many({ ...calm, shape: twoExponentials(0.1, 0.2) }, 30);
    expect(failing(list, 'early-against-late')).toBeGreaterThanOrEqual(0.5);
    for (const a of list) expect(a.earlyOverLate?.value).toBeLessThan(1);
  });
});

describe('a recording that cannot tell', () => {
  it('is not called first order', () => {
    const adequacy = judged({ ...scenario, length: 0.7, correlated: [[3, 1]] }, 8);
    expect(adequacy.firstOrder).toBeNull();
    expect(adequacy.sentence).toMatch(/cannot be told/);
    expect(adequacy.ratio90to50).toBeNull();
  });

  it('goes without the tests that need the moment of the heat going off', () => {
    const input = simulate(calm, 5, 400);
    const fit = fitDecay(input);
    if (fit.kind === 'failed') throw new Error(fit.message);
    const adequacy = judgeAdequacy({ fit, early: null });
    expect(adequacy.backExtrapolation).toBeNull();
    expect(adequacy.ratio90to50?.from).toBe('window-start');
    expect(adequacy.ratio90to50?.value).toBeCloseTo(oneExponentialRatio, 0);
    expect(adequacy.firstOrder).toBe(true);
  });
});

describe('blocks before the window that are not what they should be', () => {
  it('are left out', () => {
    const input = simulate(calm, 6, 300);
    const fit = fitDecay(input);
    if (fit.kind === 'failed') throw new Error(fit.message);
    const { time, value } = input.early;
    const good = judgeAdequacy({ fit, early: { heatOff: input.heatOff, time, value } });
    const twice = Float64Array.from([...time, ...time]);
    const bad = judgeAdequacy({
      fit,
      early: { heatOff: input.heatOff, time: twice, value: Float64Array.from([...value, ...value]) },
    });
    expect(bad).toEqual(good);
  });
});
