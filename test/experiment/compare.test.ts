import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  coefficientFrom,
  compareAll,
  compareCondition,
  compareTrends,
  conditionsOf,
  type Experiment,
  heatTransferFrom,
  type MeasuredRun,
  poolRuns,
  predictCondition,
  responseFigures,
  type TrendPoint,
  trendsOf,
} from '../../src/experiment/index.ts';
import { biotDiameter, exactOverLumped } from '../../src/prediction/index.ts';
import { experimentOf } from './read.ts';

function run(timeConstant: number, own = 0.005, shared = 0.004): MeasuredRun {
  return { name: 'run', timeConstant, own, shared, degreesOfFreedom: 50 };
}

function pooled(runs: readonly MeasuredRun[]) {
  const found = poolRuns(runs);
  if (found === null) throw new Error('nothing to pool');
  return found;
}

const sphere = { value: 15.4, standardUncertainty: 2.3, interval: [11.9, 21.9] } as const;

describe('comparison', () => {
  test('20.0 ± 0.8 against 15.4 ± 4.6 has En 0.98, and is too weak to tell', () => {
    // 4.6/√(0.8² + 4.6²) = 0.9852 with expanded uncertainties of 95 %; the means differ by 30 %.
    const stated = { ...sphere, standardUncertainty: 4.6 / 1.959964 };
    const found = compareCondition({ value: 20, standardUncertainty: 0.8 / 1.959964 }, stated);
    expect(found.plain.normalisedError).toBeCloseTo(0.9852, 4);
    expect(found.verdict).toBe('too-weak-to-tell');
    expect(found.plain.verdict).toBe('too-weak-to-tell');
    expect(found.ratio).toBeCloseTo(1.2987, 4);
    expect(found.difference).toBeCloseTo(4.6, 10);
    expect(found.sentence).toContain('30 % larger');
    expect(found.sentence).toContain('too weak to tell');
  });

  test('names the smallest difference that would have shown, in the time constant', () => {
    const { smallestSeen } = compareCondition({ value: 20, standardUncertainty: 1e-12 }, sphere);
    // Nothing is uncertain but the prediction: the ends of its interval, 21.9/15.4 and 11.9/15.4.
    expect(smallestSeen.above).toBeCloseTo(21.9 / 15.4 - 1, 9);
    expect(smallestSeen.below).toBeCloseTo(1 - 11.9 / 15.4, 9);
    // With 20 e^±0.1 s, by hand: (1/15.4 - √((e^0.1/20 - 1/20)² + (1/15.4 - 1/21.9)²)).
    const unsure = compareCondition({ value: 20, standardUncertainty: (20 * 0.1) / 1.959964 }, sphere);
    expect(unsure.smallestSeen.above).toBeCloseTo(1 / 15.4 / (0.0649351 - 0.0199775) - 1, 4);
  });

  test('of 39.2 s with an interval from 40.4 s on disagrees, and of 49.8 s with one to 51.6 s does not', () => {
    const wide = { value: 52.2, standardUncertainty: 8, interval: [40.4, 73.9] } as const;
    expect(compareCondition({ value: 39.21, standardUncertainty: 0.05 }, wide).verdict).toBe('disagree');
    const other = { value: 36.6, standardUncertainty: 5.6, interval: [28.3, 51.6] } as const;
    const found = compareCondition({ value: 49.8, standardUncertainty: 0.65 }, other);
    expect(found.verdict).toBe('too-weak-to-tell');
    expect(found.sentence).toContain('of the rates 1/tau');
  });

  test('disagrees just where |En| > 1, which without uncertainty is outside the predicted interval', () => {
    const positive = fc.double({ min: 1, max: 1000, noNaN: true });
    const share = fc.double({ min: 0.01, max: 0.95, noNaN: true });
    fc.assert(
      fc.property(positive, positive, share, fc.double({ min: 0, max: 0.3, noNaN: true }), (m, p, s, u) => {
        const predicted = {
          value: p,
          standardUncertainty: (p * s) / 2,
          interval: [p / (1 + s), p / (1 - s)] as const,
        };
        const found = compareCondition({ value: m, standardUncertainty: m * u }, predicted);
        expect(found.verdict === 'disagree').toBe(Math.abs(found.normalisedError) > 1);
        const { above, below } = found.smallestSeen;
        const beyond = m > p * (1 + above) * (1 + 1e-12) || m < p * (1 - below) * (1 - 1e-12);
        if (beyond) expect(found.verdict).toBe('disagree');
        const sharp = compareCondition({ value: m, standardUncertainty: 0 }, predicted);
        const [low, high] = predicted.interval;
        const atEnd = Math.min(Math.abs(m / low - 1), Math.abs(m / high - 1)) < 1e-9;
        if (!atEnd) expect(sharp.verdict === 'disagree').toBe(m < low || m > high);
      }),
      { seed: 7 },
    );
  });

  test('is never contradicted upwards where the prediction has no upper end', () => {
    const open = { value: 10, standardUncertainty: 6, interval: [4.5, Number.POSITIVE_INFINITY] } as const;
    const found = compareCondition({ value: 1e6, standardUncertainty: 1 }, open);
    expect(found.verdict).toBe('too-weak-to-tell');
    expect(found.sentence).toContain('without end');
  });

  test('agrees where theory is sharp and disagrees where the difference is not explained', () => {
    const sharp = { value: 20, standardUncertainty: 0.4, interval: [19.2, 20.8] } as const;
    expect(compareCondition({ value: 20.3, standardUncertainty: 0.2 }, sharp).verdict).toBe('agree');
    expect(compareCondition({ value: 25, standardUncertainty: 0.2 }, sharp).verdict).toBe('disagree');
    expect(compareCondition({ value: 40, standardUncertainty: 0.4 }, sphere).verdict).toBe('disagree');
  });

  test('knows nothing of what is no number', () => {
    for (const value of [Number.NaN, 0, -1, Number.POSITIVE_INFINITY]) {
      const found = compareCondition({ value, standardUncertainty: 0.1 }, sphere);
      expect(found.verdict).toBe('too-weak-to-tell');
      expect(found.sentence).toContain('cannot be compared');
    }
  });
});

describe('pooled runs', () => {
  test('take the scatter between runs, with n - 1 degrees of freedom, and keep what they share', () => {
    // ln tau of 40 e^-0.02, 40, 40 e^0.02: standard deviation 0.02, of the mean 0.02/√3 = 0.011547.
    const found = pooled([run(40 * Math.exp(-0.02)), run(40), run(40 * Math.exp(0.02))]);
    expect(found.value).toBeCloseTo(40, 10);
    expect(found.scatter).toBeCloseTo(0.02, 10);
    expect(found.random).toBeCloseTo(0.011547, 6);
    expect(found.relative).toBeCloseTo(Math.hypot(0.011547, 0.004), 6);
    // Welch-Satterthwaite: 2 (0.012220/0.011547)⁴ = 2.5087.
    expect(found.degreesOfFreedom).toBeCloseTo(2.509, 2);
    // t for 2.5 degrees of freedom lies between 3.18 (3) and 4.30 (2), Student's table.
    const factor = Math.log(found.interval[1] / found.value) / found.relative;
    expect(factor).toBeGreaterThan(3.18);
    expect(factor).toBeLessThan(4.31);
  });

  test('are never better than what all runs share', () => {
    const many = Array.from({ length: 100 }, () => run(40, 0.01, 0.004));
    const found = pooled(many);
    expect(found.random).toBeCloseTo(0.001, 12);
    expect(found.relative).toBeGreaterThan(0.004);
    expect(pooled([run(40, 0.01, 0.004)]).relative).toBeCloseTo(Math.hypot(0.01, 0.004), 12);
  });

  test('that agree better than they should are not believed', () => {
    const found = pooled([run(40, 0.02), run(40, 0.02), run(40, 0.02), run(40, 0.02)]);
    expect(found.random).toBeCloseTo(0.01, 12);
  });

  test('leave out what is no time constant', () => {
    expect(poolRuns([])).toBeNull();
    expect(poolRuns([run(Number.NaN), run(-3), run(0), run(Number.POSITIVE_INFINITY)])).toBeNull();
    expect(pooled([run(Number.NaN), run(40), run(40, Number.NaN)]).runs).toHaveLength(1);
  });
});

describe('response figures', () => {
  test('follow from the time constant of 10 s', () => {
    // ln 2, ln 10, ln 100; 1/(2 π tau); t90/t50 = 3.32 for one exponential.
    const found = responseFigures(10);
    expect(found.t50).toBeCloseTo(6.931472, 6);
    expect(found.t63).toBe(10);
    expect(found.t90).toBeCloseTo(23.02585, 5);
    expect(found.t99).toBeCloseTo(46.0517, 4);
    expect(found.cutoffFrequency).toBeCloseTo(0.0159155, 7);
    expect(found.rampLag).toBe(10);
    expect(found.t90 / found.t50).toBeCloseTo(3.32, 2);
  });
});

const rigText = `
room: { pressure: 101.3 kPa, temperature: 20 degC }
supply: { temperature: 20 degC }
sensor: { wires: [{ material: copper, diameter: 0.2 mm }] }
bodies:
  s8: { diameter: 8 mm, material: brass, emissivity: 0.2 }
  s12: { diameter: 12 mm, material: brass, emissivity: 0.2 }
  s20: { diameter: 20 mm, material: brass, emissivity: 0.2 }
  ptfe: { diameter: 20 mm, material: { name: a polymer, density: 2200 kg/m3, specific-heat: 1000 J/(kg K), conductivity: 0.25 W/(m K) } }
flows: { a: 5 m/s, b: 10 m/s, c: 20 m/s, still: still }
protocol: { target: 100 degC }
`;

const experiment = experimentOf(rigText);

function predicted(from: Experiment) {
  return conditionsOf(from).measured.map((one) => predictCondition(from, one, 0));
}

function predictionOf(body: string, flow: string) {
  const found = predictCondition(experiment, { body, flow }, 0);
  if (!found.ok) throw new Error(found.message);
  return found.prediction;
}

describe('heat transfer calculated back', () => {
  test('gives the coefficient that the time constant was made from', () => {
    for (const [body, flow] of [
      ['s8', 'a'],
      ['s20', 'c'],
      ['ptfe', 'c'],
      ['s12', 'still'],
    ] as const) {
      const prediction = predictionOf(body, flow);
      const measured = {
        value: prediction.timeConstant.value,
        relative: 0.01,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
      };
      const found = heatTransferFrom(measured, prediction, 'sphere');
      expect(found?.total.value).toBeCloseTo(prediction.heatTransferCoefficient.total, 6);
      expect(found?.convection.value).toBeCloseTo(prediction.heatTransferCoefficient.convection, 6);
      expect(found?.nusselt.value).toBeCloseTo(prediction.nusselt, 6);
    }
  });

  test('of a lumped body is rho c D/(6 h), by hand', () => {
    // Brass of 12 mm, 8530 × 380 × 0.012/6 = 6482.8 J/(m² K), 40 s: 162.07 W/(m² K).
    expect(coefficientFrom(40, (8530 * 380 * 0.012) / 6, 0)).toBeCloseTo(162.07, 2);
    expect(coefficientFrom(40, 6482.8, 1e-12)).toBeCloseTo(162.07, 2);
  });

  test('of a poor conductor inverts the first root of the sphere', () => {
    // Bi = h r/k = 1 has zeta = π/2 (1 - zeta cot zeta = 1): h = k/r.
    const [k, r] = [0.25, 0.01];
    const h = k / r;
    const capacity = (2200 * 1000 * r) / 3;
    const tau = (r * r * 2200 * 1000) / k / (Math.PI / 2) ** 2;
    expect(coefficientFrom(tau, capacity, r / k)).toBeCloseTo(h, 9);
    expect(exactOverLumped(1) * (capacity / h)).toBeCloseTo(tau, 6);
    expect(biotDiameter(h, 2 * r, k)).toBeCloseTo(2, 12);
    // Quicker than with a surface held at the temperature of the air, zeta = π, it cannot cool.
    const least = (r * r * 2200 * 1000) / k / Math.PI ** 2;
    expect(coefficientFrom(0.99 * least, capacity, r / k)).toBeNaN();
  });

  test('is as uncertain as time constant and heat capacity', () => {
    const prediction = predictionOf('s12', 'b');
    const h = prediction.heatTransferCoefficient;
    const found = heatTransferFrom(
      { value: prediction.timeConstant.value, relative: 0.03, degreesOfFreedom: 10 },
      prediction,
      'sphere',
    );
    // Density to 1 %, specific heat to 2 %, 0.02 mm of 12 mm: √(0.03² + 0.01² + 0.02² + 0.0017²) = 0.03746.
    expect((found?.total.standardUncertainty ?? 0) / h.total).toBeCloseTo(0.03746, 3);
    // What radiation and wires take off is better known, so the rest is relatively less well known.
    expect((found?.convection.standardUncertainty ?? 0) / h.convection).toBeGreaterThan(0.03746);
  });

  test('remarks on what free and forced convection do not do', () => {
    const still = predictionOf('s12', 'still');
    const quick = { value: still.timeConstant.value / 6, relative: 0.01, degreesOfFreedom: 10 };
    const found = heatTransferFrom(quick, still, 'sphere');
    expect(found?.remarks[0]?.code).toBe('coefficient-implausible');
    expect(found?.remarks[0]?.severity).toBe('caution');
    const jet = predictionOf('s12', 'b');
    const slow = { value: 10 * jet.timeConstant.value, relative: 0.01, degreesOfFreedom: 10 };
    expect(heatTransferFrom(slow, jet, 'sphere')?.remarks).toHaveLength(1);
    const usual = { value: jet.timeConstant.value, relative: 0.01, degreesOfFreedom: 10 };
    expect(heatTransferFrom(usual, jet, 'sphere')?.remarks).toEqual([]);
  });

  test('is nothing where the time constant is impossible', () => {
    const prediction = predictionOf('s12', 'b');
    for (const value of [Number.NaN, 0, -1, 1e9]) {
      expect(
        heatTransferFrom({ value, relative: 0.01, degreesOfFreedom: 10 }, prediction, 'sphere'),
      ).toBeNull();
    }
  });
});

describe('trends', () => {
  const diameters = [0.008, 0.012, 0.02];
  const speeds = [5, 10, 20];
  function points(factor: (d: number, u: number) => number, relative = 0.002): TrendPoint[] {
    return diameters.flatMap((diameter) =>
      speeds.map((velocity) => ({
        diameter,
        velocity,
        measured: factor(diameter, velocity),
        relative,
        predicted: [3e4 * diameter ** 1.45 * velocity ** -0.55],
      })),
    );
  }

  test('recover tau = C D^1.45 U^-0.55', () => {
    const [ofDiameter, ofSpeed] = trendsOf(
      points((d, u) => 4e4 * d ** 1.45 * u ** -0.55),
      0.15,
    );
    expect(ofDiameter?.measured.value).toBeCloseTo(1.45, 9);
    expect(ofSpeed?.measured.value).toBeCloseTo(-0.55, 9);
    expect(ofDiameter?.verdict).toBe('agree');
    expect(ofSpeed?.verdict).toBe('agree');
    // 4/3: the rate is 25 % lower, which ±30 % (k = 2) of the rate explains.
    expect(ofDiameter?.level).toBeCloseTo(4 / 3, 9);
    expect(ofDiameter?.sentence).toContain('the trend holds although the level does not, 33 % above theory');
    expect(ofDiameter?.sentence).toContain('which the uncertainty of theory explains');
  });

  test('that differ are told from each other', () => {
    const [ofDiameter] = trendsOf(
      points((d, u) => 4e4 * d ** 1 * u ** -0.55),
      0.15,
    );
    expect(ofDiameter?.verdict).toBe('disagree');
    expect(ofDiameter?.sentence).toContain('the trend does not hold');
  });

  test('from two points carry the uncertainty of the points', () => {
    const two = points((d, u) => 4e4 * d ** 1.45 * u ** -0.55, 0.1).filter(
      ({ diameter, velocity }) => diameter !== 0.02 && velocity === 10,
    );
    const [trend] = trendsOf(two, 0.15);
    // 0.1 √2/ln(12/8) = 0.3488.
    expect(trend?.measured.standardUncertainty).toBeCloseTo(0.3488, 4);
    expect(trend?.verdict).toBe('too-weak-to-tell');
    expect(trend?.of).toBe('diameter');
  });

  test('say how many points there are, what they allow, and whether they contradict each other', () => {
    const four = points((d, u) => 4e4 * d ** 1.45 * u ** -0.55).filter(({ diameter, velocity }) => {
      return diameter !== 0.02 && velocity !== 20;
    });
    const torn = four.map((one, i) => ({ ...one, measured: one.measured * (i === 3 ? 1.4 : 1) }));
    const [trend] = trendsOf(torn, 0.15);
    // Four points less level and two exponents.
    expect(trend?.degreesOfFreedom).toBe(1);
    expect(trend?.scattered).toBe(true);
    expect(trend?.verdict).toBe('too-weak-to-tell');
    expect(trend?.sentence).toContain('4 points, which leave 1 degree of freedom');
    expect(trend?.sentence).toContain('farther from one line than their own uncertainties');
    expect(trendsOf(four, 0.15)[0]?.scattered).toBe(false);
  });

  test('are none where nothing varies, or diameter and speed only together', () => {
    const all = points((d, u) => 4e4 * d ** 1.45 * u ** -0.55);
    expect(trendsOf(all.slice(0, 1), 0.15)).toEqual([]);
    expect(trendsOf([], 0.15)).toEqual([]);
    expect(
      trendsOf(
        [all[0], all[4]].filter((one) => one !== undefined),
        0.15,
      ),
    ).toEqual([]);
    expect(
      trendsOf(
        all.map((one) => ({ ...one, measured: Number.NaN })),
        0.15,
      ),
    ).toEqual([]);
  });

  test('of a whole experiment go by material, and leave out still air', () => {
    const predictions = predicted(experiment);
    const measured = predictions.flatMap((one) => {
      if (!one.ok) return [];
      const value = 1.25 * one.prediction.timeConstant.value;
      return [{ condition: one.condition, pooled: pooled([run(value), run(value * 1.001)]) }];
    });
    const comparisons = compareAll(experiment, measured, predictions);
    const trends = compareTrends(experiment, comparisons);
    const brass = trends.find(({ material }) => material.startsWith('brass'));
    expect(brass?.trends.map(({ of }) => of)).toEqual(['diameter', 'velocity']);
    // Local exponents of a metal sphere in air, 1.45 and -0.55, within what wires and radiation change.
    expect(brass?.trends[0]?.measured.value).toBeGreaterThan(1.35);
    expect(brass?.trends[0]?.measured.value).toBeLessThan(1.55);
    expect(brass?.trends[1]?.measured.value).toBeGreaterThan(-0.6);
    expect(brass?.trends[1]?.measured.value).toBeLessThan(-0.48);
    expect(brass?.trends[0]?.points).toBe(9);
    expect(brass?.trends.every(({ verdict }) => verdict === 'agree')).toBe(true);
    // Of the polymer there is one size: no trend with diameter.
    const polymer = trends.find(({ material }) => material === 'a polymer');
    expect(polymer?.trends.map(({ of }) => of)).toEqual(['velocity']);
  });
});

describe('comparison of an experiment', () => {
  test('keeps a measurement without a prediction, and says why', () => {
    const condition = { body: 's8', flow: 'a' };
    const [found] = compareAll(
      experiment,
      [{ condition, pooled: pooled([run(20)]) }],
      [{ ok: false, condition, message: 'The room is missing.', missing: [] }],
    );
    expect(found?.comparison).toBeNull();
    expect(found?.message).toBe('The room is missing.');
    expect(found?.response.t63).toBeCloseTo(20, 10);
  });
});
