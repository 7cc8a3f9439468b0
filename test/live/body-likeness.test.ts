import { describe, expect, test } from 'vitest';
import { type BodyCandidate, bodyCandidate } from '../../src/live/body-candidate.ts';
import { expectedBodies } from '../../src/live/body-expected.ts';
import { bodyLikeness } from '../../src/live/body-likeness.ts';
import type { EarlierRun } from '../../src/live/earlier-runs.ts';
import { seededRandom } from '../../src/practice/random.ts';

/** Scatter of ln tau from trial to trial and from bench to bench, as the module states them. */
const trial = 0.02;
const bench = 0.03;

function candidate(body: string, predicted: number, own: number, shared = 0.15): BodyCandidate {
  const causes = [
    { cause: 'jet', effect: shared },
    { cause: `diameter of ${body}`, effect: own },
  ];
  return { body, flow: '120', predicted, causes };
}

const small = candidate('small', 40, 0.01);
const large = candidate('large', 60, 0.01);

function run(of: BodyCandidate, timeConstant: number, where: string | null = null): EarlierRun {
  return { candidate: of, bench: where, timeConstant, relative: 0.005 };
}

describe('what a body would show', () => {
  test('without earlier runs the prediction with all its causes, the bench and the trial', () => {
    const [only] = expectedBodies([small], null, []);
    expect(only?.expected).toBe(40);
    expect(only?.relative).toBeCloseTo(Math.hypot(0.15, 0.01, bench, trial), 12);
    // 1.959964: 97.5 % point of the normal distribution (NIST/SEMATECH e-Handbook, 1.3.6.7.1).
    expect(Math.log((only?.interval[1] ?? 0) / 40)).toBeCloseTo(1.959964 * (only?.relative ?? 0), 6);
  });

  test('after a run of another body the conditional normal distribution of the two', () => {
    const [, found] = expectedBodies([small, large], null, [run(small, 48)]);
    // Mean and variance of one of two jointly normal quantities, the other being known (Anderson, An Introduction to
    // Multivariate Statistical Analysis, 3rd ed., theorem 2.5.1).
    const common = 0.15 ** 2 + bench ** 2;
    const seen = common + 0.01 ** 2 + trial ** 2 + 0.005 ** 2;
    const mean = Math.log(60) + (common / seen) * Math.log(48 / 40);
    const variance = common + 0.01 ** 2 - common ** 2 / seen + trial ** 2;
    expect(Math.log(found?.expected ?? 0)).toBeCloseTo(mean, 12);
    expect(found?.relative).toBeCloseTo(Math.sqrt(variance), 12);
    expect(found?.runs).toBe(0);
  });

  test('many runs of one body leave little more than the scatter of a trial', () => {
    const [found] = expectedBodies(
      [small],
      null,
      Array.from({ length: 30 }, () => run(small, 44)),
    );
    expect(found?.expected).toBeCloseTo(44, 1);
    expect(found?.relative).toBeLessThan(1.05 * trial);
    expect(found?.runs).toBe(30);
  });

  test('a run on another bench leaves what sets benches apart', () => {
    const runs = (where: string) => Array.from({ length: 30 }, () => run(small, 44, where));
    const [own] = expectedBodies([small], 'one', runs('one'));
    const [other] = expectedBodies([small], 'one', runs('two'));
    expect(other?.relative).toBeGreaterThan(Math.hypot(trial, bench));
    expect(own?.relative).toBeLessThan(bench);
  });

  test('a run that the others contradict is not believed', () => {
    const good = [run(small, 44), run(small, 44.5), run(large, 66)];
    const [without] = expectedBodies([small], null, good);
    // The large body under the name of the small one.
    const [found] = expectedBodies([small], null, [...good, run(small, 65)]);
    expect(found).toEqual(without);
    expect(found?.runs).toBe(2);
  });

  test('a run without a time constant says nothing', () => {
    const bad = [0, -1, Number.NaN, Number.POSITIVE_INFINITY].map((value) => run(small, value));
    expect(expectedBodies([small], null, bad)).toEqual(expectedBodies([small], null, []));
  });
});

describe('which body it looks like', () => {
  test('the likelihoods are those of the normal distribution', () => {
    const [first] = bodyLikeness({ value: 40, relative: 0 }, expectedBodies([small], null, []));
    const deviation = Math.hypot(0.15, 0.01, bench, trial);
    expect(first?.logLikelihood).toBeCloseTo(-Math.log(deviation) - 0.9189385332046727, 12);
    expect(first?.share).toBe(1);
  });

  test('shares are as often right as they say, where the world is as the model has it', () => {
    const random = seededRandom(20260309);
    const bodies = [small, candidate('middle', 47, 0.02), large];
    let expected = 0;
    let right = 0;
    let squares = 0;
    for (let world = 0; world < 4000; world++) {
      const jet = 0.15 * random.normal();
      const here = bench * random.normal();
      const own = bodies.map(({ causes }) => (causes[1]?.effect ?? 0) * random.normal());
      const shown = (i: number) =>
        (bodies[i]?.predicted ?? 0) * Math.exp(jet + here + (own[i] ?? 0) + trial * random.normal());
      const truth = Math.floor(3 * random.uniform());
      const earlier: EarlierRun[] = [{ candidate: small, bench: null, timeConstant: shown(0), relative: 0 }];
      const [first] = bodyLikeness(
        { value: shown(truth), relative: 0 },
        expectedBodies(bodies, null, earlier),
      );
      const share = first?.share ?? 0;
      expected += share;
      squares += share * (1 - share);
      if (first?.body === bodies[truth]?.body) right++;
    }
    expect(Math.abs(right - expected)).toBeLessThan(3 * Math.sqrt(squares));
    expect(right).toBeGreaterThan(3800);
  });

  test('what is no time constant looks like nothing', () => {
    const bodies = expectedBodies([small, large], null, []);
    for (const value of [0, -3, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(bodyLikeness({ value, relative: 0.01 }, bodies)).toEqual([]);
    }
    expect(bodyLikeness({ value: 40, relative: Number.NaN }, bodies)).toEqual([]);
  });
});

describe('a candidate from its prediction', () => {
  const line = (input: string, contribution: number) => ({
    input,
    value: 1,
    unit: '1',
    standardUncertainty: 0.5,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    sensitivity: contribution / 0.5,
    contribution: Math.abs(contribution),
    share: 0,
  });
  const timeConstant = { value: 40, standardUncertainty: 6, interval: [30, 57] as const, coverage: 0.95 };
  const made = bodyCandidate('ball', '120', 'brass', {
    timeConstant,
    budget: [line('nusseltFactor', -6), line('meterReading', -0.4), line('density', 0.4), line('mass', 0.08)],
  });

  test('its causes keep their signs, and their squares add up to the variance of the budget', () => {
    const variance = made.causes.reduce((sum, { effect }) => sum + effect ** 2, 0);
    expect(variance).toBeCloseTo((6 ** 2 + 0.4 ** 2 + 0.4 ** 2 + 0.08 ** 2) / 40 ** 2, 12);
    expect(made.causes.find(({ cause }) => cause === 'meterReading')?.effect).toBeCloseTo(-0.01, 12);
  });

  test('what the jet gives is common, what the material gives is common to it, the rest is its own', () => {
    const causes = made.causes.map(({ cause }) => cause);
    expect(causes).toEqual([
      'nusseltFactor',
      'nusseltFactor of ball',
      'meterReading',
      'density of brass',
      'mass of ball',
    ]);
  });
});
