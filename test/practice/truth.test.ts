import { describe, expect, test } from 'vitest';
import { simulateBody } from '../../src/practice/body.ts';
import { Curve } from '../../src/practice/body-curve.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { windowTimeConstant } from '../../src/practice/truth.ts';
import { table } from '../reference/tables.ts';
import { plainBenchTrial, type TrialChanges, wire } from './body-trial.ts';

/** A curve through f with its derivative, at steps of 0.05. */
function curveOf(f: (t: number) => number, slope: (t: number) => number, end: number): Curve {
  const curve = new Curve();
  for (let t = 0; t <= end; t += 0.05) curve.push(t, f(t), slope(t));
  return curve;
}

const truthOf = (changes: TrialChanges) => simulateBody(plainBenchTrial(changes), seededRandom(7)).truth;

describe('a curve', () => {
  test('is exact for cubics', () => {
    const curve = new Curve();
    for (const t of [0, 0.3, 1, 2.5, 4]) curve.push(t, t ** 3 - 2 * t * t + 5, 3 * t * t - 4 * t);
    const samples = curve.sample(0, 10, 41);
    for (const [i, value] of samples.entries()) {
      const t = i / 10;
      expect(value).toBeCloseTo(t ** 3 - 2 * t * t + 5, 12);
    }
  });

  test('may have a corner, keeps its ends, and grows', () => {
    const curve = new Curve();
    curve.push(0, 0, 1);
    curve.push(1, 1, 1);
    curve.push(1, 1, -1);
    curve.push(2, 0, -1);
    expect([...curve.sample(-1, 1, 5)]).toEqual([0, 0, 1, 0, 0]);
    expect([...curve.sample(0.5, 1, 2)]).toEqual([0.5, 0.5]);
    for (let i = 3; i < 5000; i += 1) curve.push(i, i, 0);
    expect(curve.length).toBe(5001);
    expect(curve.value(5000)).toBe(4999);
  });
});

describe('time constant over the window', () => {
  test('of an exponential is its own', () => {
    const curve = curveOf(
      (t) => 20 + 80 * Math.exp(-t / 2.5),
      (t) => -32 * Math.exp(-t / 2.5),
      10,
    );
    expect(windowTimeConstant(curve, 20)).toBeCloseTo(2.5, 6);
  });

  test('where ln of the error fraction is -t - c t²: least squares over an interval give slope -1 - c (from + to)', () => {
    const c = 0.2;
    const f = (t: number) => Math.exp(-t - c * t * t);
    const curve = curveOf(f, (t) => -(1 + 2 * c * t) * f(t), 5);
    const timeOf = (fraction: number) => (Math.sqrt(1 - 4 * c * Math.log(fraction)) - 1) / (2 * c);
    const expected = 1 / (1 + c * (timeOf(0.9) + timeOf(0.1)));
    expect(windowTimeConstant(curve, 0)).toBeCloseTo(expected, 6);
  });

  test('is none without a step or without the whole window', () => {
    const f = (t: number) => Math.exp(-t);
    expect(
      windowTimeConstant(
        curveOf(f, (t) => -f(t), 2),
        0,
      ),
    ).toBeNull();
    expect(
      windowTimeConstant(
        curveOf(f, (t) => -f(t), 5),
        1,
      ),
    ).toBeNull();
    expect(
      windowTimeConstant(
        curveOf(f, (t) => -f(t), 5),
        2,
      ),
    ).toBeNull();
  });
});

describe('truth of a trial', () => {
  test('a small Biot number: the time constant of the first root of 1 - zeta cot zeta = Bi', () => {
    // Long heating, so that the sphere starts evenly hot; by 0.9 of the step the second mode is gone.
    for (const row of table('sphere-first-root.csv')) {
      const biot = row.number('biot');
      if (biot < 1e-3 || biot > 0.2) continue;
      const h = (biot * 120) / 6e-3;
      const lumped = (8500 * 380 * 12e-3) / 6 / h;
      const truth = truthOf({
        air: { coefficient: h },
        heating: { from: 0, to: 20 * lumped, coefficient: h },
        length: 21 * lumped,
        rate: 10 / lumped,
      });
      expect(truth.lumpedTimeConstant / lumped).toBeCloseTo(1, 12);
      // h L/k with L = r/3.
      expect(truth.biot).toBeCloseTo(biot / 3, 12);
      expect(Math.abs((truth.timeConstant ?? 0) / (lumped * row.number('exactOverLumped')) - 1)).toBeLessThan(
        1e-4,
      );
    }
  });

  test('radiation stands in the lumped time constant and the Biot number', () => {
    // Coefficient sigma (T² + T_s²)(T + T_s) of a black sphere half-way, at 343.15 K, to a room of 293.15 K, by hand:
    // 5.670374e-8 × 203688.8 × 636.3 = 7.3493 W/(m² K).
    const truth = truthOf({
      body: { emissivity: 1 },
      heating: { from: 0, to: 1000, stream: 120, coefficient: 1e5 },
      length: 1001,
    });
    expect(truth.peak).toBeCloseTo(119.99, 1);
    const h = 150 + 7.3493;
    expect(truth.lumpedTimeConstant / ((8500 * 380 * 12e-3) / 6 / h)).toBeCloseTo(1, 4);
    expect(truth.biot / ((h * 12e-3) / 6 / 120)).toBeCloseTo(1, 4);
  });

  test('what the air does is not the body: tail, drift, turbulence leave the time constant', () => {
    const clean = truthOf({ body: { stems: [wire] } });
    const stirred = truthOf({
      body: { stems: [wire] },
      heating: { tail: 1 },
      air: {
        drift: 1e-3,
        turbulence: { standardDeviation: 1, correlationTime: 0.5 },
        coefficientFluctuation: { relative: 0.1, correlationTime: 0.5 },
      },
    });
    // The profile at heat-off differs a little.
    expect(Math.abs((stirred.timeConstant ?? 0) / (clean.timeConstant ?? 1) - 1)).toBeLessThan(5e-4);
    expect(stirred.coolingAir).toBeCloseTo(20.06, 12);
    // A stem cools the body faster than a lumped balance without it.
    expect(clean.timeConstant).toBeLessThan(clean.lumpedTimeConstant);
  });

  test('a recording that stops early has the same time constant and says how far it came', () => {
    const whole = truthOf({ length: 400, body: { conductivity: 1e6 } });
    const early = truthOf({ length: 90, body: { conductivity: 1e6 } });
    expect(early.timeConstant).toBeCloseTo(whole.timeConstant ?? 0, 3);
    const lumped = (8500 * 380 * 12e-3) / 6 / 150;
    expect(early.endFraction).toBeCloseTo(Math.exp(-30 / lumped), 4);
    expect(whole.endFraction).toBeCloseTo(Math.exp(-340 / lumped), 4);
    expect(truthOf({ length: 50 }).endFraction).toBe(1);
  });

  test('the end counts from the air as it is then, with drift', () => {
    const drift = 2e-3;
    const truth = truthOf({
      air: { drift },
      body: { conductivity: 1e6 },
      heating: { coefficient: 1e5 },
      length: 900,
    });
    const lumped = (8500 * 380 * 12e-3) / 6 / 150;
    // Nothing is left but the lag behind the drift, over a step of 100 K.
    expect(truth.endFraction).toBeCloseTo((-drift * lumped) / 100, 6);
  });

  test('a hot stream that dies away slowly leaves the time constant of one temperature alone', () => {
    const changes: TrialChanges = { body: { conductivity: 1e6 }, heating: { from: 0, to: 100, tail: 15 } };
    const lumped = (8500 * 380 * 12e-3) / 6 / 150;
    expect((truthOf(changes).timeConstant ?? 0) / lumped).toBeCloseTo(1, 4);
  });

  test('the cooling that counts is the last', () => {
    const first = { from: 10, to: 30, stream: 300, coefficient: 400, rise: 0, tail: 0, wander: 0 };
    const truth = truthOf({ heatings: [first, { ...first, from: 100, to: 120, stream: 100 }] });
    expect(truth).toMatchObject({ heatOn: 100, heatOff: 120 });
    // First heating, one temperature: 20 + 280 (1 - exp(-20 s/tau)) with tau = 16.15 s; Bi/5 apart.
    expect(truth.peak).toBeCloseTo(20 + 280 * (1 - Math.exp(-20 / 16.15)), -1);
    expect(truth.timeConstant).not.toBeNull();
  });

  test('a body that was not heated, or does not cool, has no time constant', () => {
    expect(truthOf({ heating: { stream: 20 } })).toMatchObject({ timeConstant: null, endFraction: 1 });
    expect(truthOf({ air: { coefficient: 0 } }).timeConstant).toBeNull();
    expect(truthOf({ air: { jetChange: { at: 61, factor: 0 } } }).timeConstant).toBeNull();
  });
});
