import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { simulateBody } from '../../src/practice/body.ts';
import { usualSteps } from '../../src/practice/body-run.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { table } from '../reference/tables.ts';
import {
  largestDifference,
  none,
  oneTemperature,
  plainBenchTrial,
  simulate,
  type TrialChanges,
  wire,
} from './body-trial.ts';

/** Time constant ρ c D/(6 h) of the plain body at a coefficient, s. */
const lumped = (h: number, diameter = 12e-3) => (8500 * 380 * diameter) / 6 / h;

describe('a sphere against the series solution', () => {
  const sphere = (biot: number, unitsLong: number, samples: number) => {
    const h = (biot * 120) / 6e-3;
    const unit = 6e-3 ** 2 / (120 / 8500 / 380);
    const length = unitsLong * unit;
    return simulate({
      air: { coefficient: h },
      heating: { from: 0, to: 2 * length, coefficient: h },
      length,
      rate: samples / length,
    }).junction;
  };
  const errorFraction = (temperature: number | undefined) => (120 - (temperature ?? Number.NaN)) / 100;

  test('at its middle, to 1e-4 of the step, at Bi = h r/k up to 1.5', () => {
    // Both tables: Carslaw & Jaeger, 1959, 9.4, evaluated apart from this project.
    const rows = [...table('sphere-series.csv'), ...table('sphere-centre.csv')].filter(
      (row) => row.number('biot') <= 1.5,
    );
    expect(rows.length).toBeGreaterThan(20);
    for (const biot of new Set(rows.map((row) => row.number('biot')))) {
      // All Fourier numbers of the tables are multiples of 0.05 up to 5.
      const junction = sphere(biot, 5, 100);
      for (const row of rows.filter((r) => r.number('biot') === biot)) {
        const at = errorFraction(junction[Math.round(row.number('fourier') * 20)]);
        expect(Math.abs(at - row.number('centre'))).toBeLessThan(1e-4);
      }
    }
  });

  test('cools with the first root of 1 - zeta cot zeta = Bi once the others have died', () => {
    for (const row of table('sphere-first-root.csv')) {
      const biot = row.number('biot');
      if (biot < 0.01 || biot > 1.5) continue;
      const rate = row.number('zeta') ** 2;
      const [, early, late] = sphere(biot, 1 + 1 / rate, 100).filter((_, i) => i % 50 === 0);
      const between = (1 + 1 / rate) / 2;
      const measured = Math.log(errorFraction(early) / errorFraction(late)) / between;
      // Second mode at the early point: 1e-4 at the largest Bi; (zeta/n)²/12 = 8e-5 of the shells.
      expect(Math.abs(measured / rate - 1)).toBeLessThan(5e-4);
    }
  });
});

describe('a body of one temperature against closed forms', () => {
  test('with a hot stream that builds up and dies away: two exponentials each', () => {
    const tau = lumped(150);
    const [rise, tail, step] = [1.5, 0.8, 100];
    const { junction } = simulate({
      body: oneTemperature,
      heating: { coefficient: 150, rise, tail },
      rate: 7,
    });
    // tau x' + x = e(t): from 0 with e = step (1 - exp(-t/rise)), then with e = left exp(-t/tail).
    const build = step / (1 - tau / rise);
    const heating = (t: number) => step - build * Math.exp(-t / rise) + (build - step) * Math.exp(-t / tau);
    const left = step * (1 - Math.exp(-50 / rise));
    const dying = left / (1 - tau / tail);
    const cooling = (t: number) => (heating(50) - dying) * Math.exp(-t / tau) + dying * Math.exp(-t / tail);
    const expected = Array.from(junction, (_, i) => {
      const t = i / 7;
      return 20 + (t <= 10 ? 0 : t <= 60 ? heating(t - 10) : cooling(t - 60));
    });
    // Steps: about 4e-6 of 100 K, and Bi/5 of the conduction inside.
    expect(largestDifference(junction, expected)).toBeLessThan(1e-3);
  });

  test('with a junction that lags: two exponentials', () => {
    const tau = lumped(150);
    for (const lag of [0.01, 0.7, 60]) {
      const { junction } = simulate({
        body: { ...oneTemperature, junctionLag: lag },
        heating: { from: 0, to: 500, coefficient: 150 },
      });
      const expected = Array.from(junction, (_, i) => {
        const t = i / 10;
        const left = (tau * Math.exp(-t / tau) - lag * Math.exp(-t / lag)) / (tau - lag);
        return 20 + 100 * (1 - left);
      });
      expect(largestDifference(junction, expected)).toBeLessThan(1e-3);
    }
  });

  test('with radiation alone: the T⁴ law (Incropera et al., 6th ed., eq. 5.18)', () => {
    const emissivity = 0.9;
    const { junction } = simulate({
      body: { ...oneTemperature, emissivity },
      air: { coefficient: 0 },
      heating: { from: 0, to: 60, stream: 600, coefficient: 400 },
      length: 2000,
      rate: 0.1,
    });
    const surroundings = 293.15;
    const capacityOverArea = (8500 * 380 * 12e-3) / 6;
    const primitive = (t: number) =>
      Math.log((t + surroundings) / (t - surroundings)) + 2 * Math.atan(t / surroundings);
    const start = (junction[6] ?? 0) + 273.15;
    expect(start).toBeGreaterThan(700);
    for (let i = 7; i <= 200; i += 1) {
      const now = (junction[i] ?? 0) + 273.15;
      const scale = capacityOverArea / (4 * emissivity * 5.670374e-8 * surroundings ** 3);
      const time = scale * (primitive(now) - primitive(start));
      expect(Math.abs(time / (i * 10 - 60) - 1)).toBeLessThan(1e-4);
    }
  });

  test('in drifting air it stays behind by the time constant and the lag', () => {
    const drift = 0.002;
    const { junction } = simulate({
      body: { ...oneTemperature, junctionLag: 3 },
      air: { drift },
      heating: { from: 199, to: 200 },
    });
    const expected = Array.from(junction.subarray(0, 1990), (_, i) => {
      return 20 + drift * (i / 10 - lumped(150) - 3);
    });
    expect(largestDifference(junction.slice(0, 1990), expected)).toBeLessThan(1e-6);
  });

  test('a changed jet changes the slope of the logarithm, an offset of the jet the end', () => {
    const { junction, truth } = simulate({
      body: oneTemperature,
      air: { jetOffset: -0.5, jetChange: { at: 100, factor: 2 } },
      length: 400,
    });
    const slope = (from: number, to: number) => {
      const excess = (t: number) => (junction[10 * t] ?? Number.NaN) - 19.5;
      return Math.log(excess(from) / excess(to)) / (to - from);
    };
    expect(slope(60, 100) * lumped(150)).toBeCloseTo(1, 4);
    expect(slope(100, 150) * lumped(300)).toBeCloseTo(1, 4);
    expect(junction[0]).toBeCloseTo(20, 7);
    expect(junction[99]).toBeCloseTo(20, 7);
    expect(junction.at(-1)).toBeCloseTo(19.5, 3);
    expect(truth.coolingAir).toBe(19.5);
  });
});

describe('the adhesive', () => {
  const centre = simulate({}).junction;
  const melting = { above: 70, lag: 4 };
  const { junction } = simulate({ body: { junctionLag: 0.5, melting } });
  const hot = centre.findIndex((temperature) => temperature > melting.above);

  test('gives way where the middle passes the temperature, for good', () => {
    // (centre - junction)/lag is the slope; central differences over 0.2 s are good to 1e-4 of it here.
    const lagAt = (i: number) => {
      const slope = ((junction[i + 1] ?? 0) - (junction[i - 1] ?? 0)) / 0.2;
      return ((centre[i] ?? 0) - (junction[i] ?? 0)) / slope;
    };
    expect(hot).toBeGreaterThan(150);
    expect(lagAt(hot - 20)).toBeCloseTo(0.5, 2);
    expect(lagAt(hot + 20)).toBeCloseTo(4, 2);
    expect(lagAt(1500)).toBeCloseTo(4, 2);
  });

  test('holds where it stays colder', () => {
    const cold = simulate({ body: { junctionLag: 0.5, melting: { above: 119, lag: 4 } } }).junction;
    expect(largestDifference(cold, simulate({ body: { junctionLag: 0.5 } }).junction)).toBe(0);
  });

  test('may lose its lag', () => {
    const tight = simulate({ body: { junctionLag: 2, melting: { above: 70, lag: 0 } } }).junction;
    expect(largestDifference(tight.slice(hot + 20), centre.slice(hot + 20))).toBeLessThan(1e-9);
  });
});

describe('steps', () => {
  const busy: TrialChanges = {
    body: { stems: [wire], emissivity: 0.5, junctionLag: 0.5, conductivity: 20 },
    heating: { rise: 0.3, tail: 0.4 },
    air: { jetOffset: -0.5, drift: 1e-3 },
  };
  const withSteps = (share: number) =>
    simulateBody(plainBenchTrial(busy), none, {
      perTimeConstant: usualSteps.perTimeConstant * share,
      growth: usualSteps.growth / share,
    }).junction;

  test('of half the length leave a quarter of the error', () => {
    const reference = withSteps(16);
    const errors = [0.5, 1, 2].map((share) => largestDifference(withSteps(share), reference));
    expect(errors[1]).toBeLessThan(1e-3);
    for (const [i, error] of errors.slice(1).entries()) {
      const ratio = (errors[i] ?? 0) / error;
      expect(ratio).toBeGreaterThan(3.4);
      expect(ratio).toBeLessThan(4.6);
    }
  });

  test('do not depend on the sampling rate, nor does chance', () => {
    const chance: TrialChanges = {
      ...busy,
      heating: { wander: 0.05, rise: 0.3, tail: 0.4 },
      air: {
        turbulence: { standardDeviation: 0.5, correlationTime: 0.3 },
        coefficientFluctuation: { relative: 0.05, correlationTime: 0.5 },
      },
      length: 100,
    };
    const slow = simulate({ ...chance, rate: 1 }, seededRandom(3));
    const fast = simulate({ ...chance, rate: 4000 }, seededRandom(3));
    expect(slow.junction).toHaveLength(101);
    expect(fast.junction).toHaveLength(400_001);
    const common = fast.junction.filter((_, i) => i % 4000 === 0);
    expect(largestDifference(slow.junction, common)).toBeLessThan(1e-10);
    expect(fast.truth).toEqual(slow.truth);
    const other = simulate({ ...chance, rate: 1 }, seededRandom(4));
    expect(largestDifference(slow.junction, other.junction)).toBeGreaterThan(0.1);
  });

  test('join smoothly: no corner between samples that are closer than the steps', () => {
    const { junction } = simulate({ ...busy, rate: 200 });
    // Third differences of a smooth curve at 5 ms: the curve's own are under 1e-6 K after the tail.
    const from = 200 * 65;
    let largest = 0;
    for (let i = from; i + 3 < junction.length; i += 1) {
      const [a, b, c, d] = junction.subarray(i, i + 4);
      largest = Math.max(largest, Math.abs((d ?? 0) - 3 * (c ?? 0) + 3 * (b ?? 0) - (a ?? 0)));
    }
    expect(largest).toBeLessThan(1e-5);
  });
});

describe('invariances', () => {
  test('a body twice as large under half the coefficient does the same in four times the time', () => {
    const small = simulate({ body: { conductivity: 5 } }).junction;
    const large = simulate({
      body: { conductivity: 5, diameter: 24e-3 },
      air: { coefficient: 75 },
      heating: { from: 40, to: 240, coefficient: 100 },
      length: 800,
      rate: 2.5,
    }).junction;
    expect(largestDifference(small, large)).toBeLessThan(1e-8);
  });

  test('without radiation excesses scale and levels shift', () => {
    const changes = { body: { stems: [wire], junctionLag: 1 }, heating: { rise: 1, tail: 1 } };
    const plain = simulate(changes).junction;
    const other = simulate({
      ...changes,
      air: { ambient: -10, surroundings: 300 },
      heating: { rise: 1, tail: 1, stream: 190 },
    }).junction;
    expect(
      largestDifference(
        other,
        plain.map((t) => -10 + 2 * (t - 20)),
      ),
    ).toBeLessThan(1e-8);
  });

  test('a recording that starts in the heating is the end of a longer one', () => {
    const whole = simulate({ length: 200 }).junction;
    const part = simulate({ heating: { from: -30, to: 20 }, length: 160 }).junction;
    // Not the same steps: their rule knows the length.
    expect(largestDifference(part, whole.slice(400))).toBeLessThan(1e-3);
  });

  test('no temperature leaves the span between air and stream, whatever the body', () => {
    const between = (min: number, max: number) =>
      fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map(Math.exp);
    fc.assert(
      fc.property(
        fc.record({
          diameter: between(3e-4, 0.05),
          conductivity: between(0.2, 400),
          coefficient: between(5, 1000),
          junctionLag: fc.constantFrom(0, 0.01, 1),
          emissivity: fc.constantFrom(0, 0.9),
          stemLength: between(1e-3, 0.3),
          rise: fc.constantFrom(0, 0.1, 2),
          tail: fc.constantFrom(0, 0.1, 2),
        }),
        (c) => {
          const { junction, truth } = simulate({
            body: {
              diameter: c.diameter,
              conductivity: c.conductivity,
              junctionLag: c.junctionLag,
              emissivity: c.emissivity,
              stems: [{ ...wire, diameter: c.diameter / 4, length: c.stemLength }],
            },
            air: { coefficient: c.coefficient },
            heating: { coefficient: c.coefficient, rise: c.rise, tail: c.tail },
            length: 100,
          });
          for (const temperature of junction) {
            expect(temperature).toBeGreaterThan(20 - 1e-6);
            expect(temperature).toBeLessThan(120 + 1e-6);
          }
          expect(truth.peak).toBeLessThan(120 + 1e-6);
        },
      ),
      { seed: 5, numRuns: 25 },
    );
  });
});
