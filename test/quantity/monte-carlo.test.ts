import { describe, expect, it } from 'vitest';
import {
  type Distribution,
  type Input,
  propagate,
  propagateMonteCarlo,
  studentQuantile,
  validate,
} from '../../src/quantity/index.ts';
import { four, sum } from './monte-carlo-inputs.ts';

const draws = 200_000;
/** Standard error of the end of a symmetric 95 % interval where the density there is known. */
const endError = (density: number) => Math.sqrt((0.025 * 0.975) / draws) / density;
/** Bound on the standard error of a standard deviation: that of a normal distribution, the largest here. */
const spreadError = (u: number) => u / Math.sqrt(2 * draws);
const within = (found: number, expected: number, error: number) =>
  expect(Math.abs(found - expected), `${found} for ${expected}`).toBeLessThan(3 * error);

describe('the additive models of JCGM 101:2008, 9.2', () => {
  it('9.2.2: four normals', () => {
    const found = propagateMonteCarlo(sum, four('normal'), { draws });
    within(found.mean, 0, 2 / Math.sqrt(draws));
    within(found.standardUncertainty, 2, spreadError(2));
    // Printed ±3.92; density of N(0, 2²) there.
    const density = Math.exp(-(1.959964 ** 2) / 2) / Math.sqrt(2 * Math.PI) / 2;
    within(found.interval[0], -3.91992797, endError(density));
    within(found.interval[1], 3.91992797, endError(density));
    // The ends scatter as they say: to the first figure from so few order statistics.
    expect(found.endErrors[1] / endError(density)).toBeGreaterThan(0.8);
    expect(found.endErrors[1] / endError(density)).toBeLessThan(1.25);
    expect(validate(propagate(sum, four('normal')), found).verdict).toBe('agree');
  });

  it('9.2.3: four rectangular distributions', () => {
    const found = propagateMonteCarlo(sum, four('rectangular'), { draws });
    within(found.standardUncertainty, 2, spreadError(2));
    // Printed ±3.88; exactly 2√3 (2 - (3/5)^(1/4)). Density: sum of four uniform distributions, last piece.
    const exact = 2 * Math.sqrt(3) * (2 - 0.6 ** 0.25);
    const density = (2 - exact / (2 * Math.sqrt(3))) ** 3 / 6 / (2 * Math.sqrt(3));
    within(found.interval[0], -exact, endError(density));
    within(found.interval[1], exact, endError(density));
    // To one figure of u the first order, ±3.92, will do.
    expect(validate(propagate(sum, four('rectangular')), found, 1).verdict).toBe('agree');
  });

  it('9.2.4: one wide rectangular distribution among three', () => {
    const inputs = four('rectangular', [1, 1, 1, 10]);
    const found = propagateMonteCarlo(sum, inputs, { draws });
    within(found.standardUncertainty, 10.14889156509222, spreadError(10.15));
    // Printed ±17.0; recomputed 17.015814. Density: 1/(20√3) times the probability, a little over a half, that the
    // other three exceed 17.0158 - 10√3.
    within(found.interval[0], -17.015814098928168, endError(0.5 / 34.64));
    within(found.interval[1], 17.015814098928168, endError(0.5 / 34.64));
    // Printed for the first order: 10.1 and ±19.9; not validated to two figures.
    const first = propagate(sum, inputs);
    expect(first.expandedUncertainty).toBeCloseTo(19.89146195525103, 6);
    const validation = validate(first, found);
    expect(validation.tolerance).toBe(0.5);
    expect(validation.verdict).toBe('disagree');
    expect(validation.flaws).toEqual(['shape']);
  });
});

describe('the mass calibration of JCGM 101:2008, 9.3', () => {
  const rectangular = (name: string, low: number, high: number) =>
    ({
      name,
      value: (low + high) / 2,
      standardUncertainty: (high - low) / Math.sqrt(12),
      distribution: 'rectangular',
      unit: 'kg/m³',
    }) as const;
  const inputs = [
    { name: 'm_Rc', value: 100_000, standardUncertainty: 0.05, unit: 'mg' },
    { name: 'dm_Rc', value: 1.234, standardUncertainty: 0.02, unit: 'mg' },
    rectangular('rho_a', 1.1, 1.3),
    rectangular('rho_W', 7000, 9000),
    rectangular('rho_R', 7950, 8050),
  ] as const;
  const found = propagateMonteCarlo(
    ([m, dm, a, w, r]) => (m + dm) * (1 + (a - 1.2) * (1 / w - 1 / r)) - 100_000,
    inputs,
    { draws },
  );
  const first = propagate(
    ([m, dm, a, w, r]) => (m + dm) * (1 + (a - 1.2) * (1 / w - 1 / r)) - 100_000,
    inputs,
  );

  it('has the mean, uncertainty and interval', () => {
    // Printed 1.2341, 0.0754, [1.0834, 1.3825]; recomputed with 2·10⁷ draws, whose own error is a seventh of ours.
    within(found.mean, 1.23400675, 0.0755 / Math.sqrt(draws));
    within(found.standardUncertainty, 0.0754796, spreadError(0.0755));
    // Density near that of a normal distribution of this width, 0.058/0.0755.
    const error = endError(0.058 / 0.0755);
    within(found.interval[0], 1.08442896, error);
    within(found.interval[1], 1.38358152, error);
    const width = found.shortestInterval[1] - found.shortestInterval[0];
    within(width, 1.3836007 - 1.0844505, 1.5 * error);
    expect(width).toBeLessThanOrEqual(found.interval[1] - found.interval[0]);
  });

  it('shows what the first order misses', () => {
    // Printed for the first order: 1.2340, 0.0539, [1.1285, 1.3395]; differences of the ends 0.0451 and 0.0430 (to
    // the shortest interval), tolerance 0.005, not validated.
    expect(first.value).toBeCloseTo(1.234, 9);
    expect(first.standardUncertainty).toBeCloseTo(0.0539, 4);
    expect(first.interval[0]).toBeCloseTo(1.1285, 3);
    expect(first.interval[1]).toBeCloseTo(1.3395, 3);
    const validation = validate(first, found, 1);
    expect(validation.tolerance).toBe(0.005);
    // To the symmetric interval, recomputed as above: 0.0441 at both ends.
    within(validation.lowerDistance, 1.1285 - 1.08442896, endError(0.058 / 0.0755));
    within(validation.upperDistance, 1.38358152 - 1.3395, endError(0.058 / 0.0755));
    expect(validation.verdict).toBe('disagree');
    expect(validation.flaws).toEqual(['spread']);
    expect(validation.sentence).toMatch(
      /^First order and Monte Carlo do not agree: the ends of their 95 % intervals lie up to 0\.04\d apart, more than 0\.0050; the standard uncertainty is 0\.07\d and not 0\.054, for the model bends/,
    );
  });
});

describe('distributions', () => {
  const one = (distribution: Distribution, more: Partial<Input> = {}) =>
    propagateMonteCarlo(
      ([x]) => x,
      [{ name: 'x', value: 10, standardUncertainty: 2, distribution, unit: '', ...more }],
      { draws },
    );

  // Quantiles of the distributions with mean 10 and standard deviation 2 (JCGM 101:2008, 6.4), and their densities.
  it.each([
    ['normal', 10 + 2 * 1.959963985, 0.0584 / 2],
    ['rectangular', 10 + 2 * Math.sqrt(3) * 0.95, 1 / (4 * Math.sqrt(3))],
    ['triangular', 10 + 2 * Math.sqrt(6) * (1 - Math.sqrt(0.05)), Math.sqrt(0.05) / (2 * Math.sqrt(6))],
    [
      'arcsine',
      10 + 2 * Math.SQRT2 * Math.cos(0.025 * Math.PI),
      1 / (Math.PI * 2 * Math.SQRT2 * Math.sin(0.025 * Math.PI)),
    ],
  ] as const)('%s', (distribution, upper, density) => {
    const found = one(distribution);
    within(found.mean, 10, 2 / Math.sqrt(draws));
    within(found.standardUncertainty, 2, spreadError(2));
    within(found.interval[1], upper, endError(density));
    within(found.interval[0], 20 - upper, endError(density));
  });

  it('lognormal: mean and standard deviation are those of the value, not of its logarithm', () => {
    const found = one('lognormal');
    const s = Math.sqrt(Math.log(1.04));
    const median = 10 / Math.sqrt(1.04);
    within(found.mean, 10, 2 / Math.sqrt(draws));
    // Kurtosis about 3.7: a little above the normal bound.
    within(found.standardUncertainty, 2, 1.2 * spreadError(2));
    within(found.median, median, (median * s * 1.2533) / Math.sqrt(draws));
    for (const [k, side] of [-1, 1].entries()) {
      const end = median * Math.exp(side * 1.959963985 * s);
      within(found.interval[k] ?? Number.NaN, end, endError(0.0584 / (s * end)));
    }
  });

  it.each([3, 5.5, 40])('t with %d degrees of freedom', (nu) => {
    const found = one('t', { degreesOfFreedom: nu });
    const k = studentQuantile(0.975, nu);
    const apart = 1e-4;
    const density =
      (2 * apart) / (studentQuantile(0.975 + apart, nu) - studentQuantile(0.975 - apart, nu)) / 2;
    within(found.interval[1], 10 + 2 * k, endError(density));
    within(found.interval[0], 10 - 2 * k, endError(density));
    // JCGM 101:2008, 6.4.9.4: variance ν/(ν - 2) of the squared scale; a finite fourth moment needs ν > 4.
    if (nu > 4) expect(found.standardUncertainty / (2 * Math.sqrt(nu / (nu - 2)))).toBeCloseTo(1, 1);
    expect(found.notes).toEqual([]);
  });

  it('t with so few degrees of freedom that it has no standard deviation is told', () => {
    const { notes } = one('t', { degreesOfFreedom: 2 });
    expect(notes).toEqual([
      'Input "x" has a t distribution with 2 degrees of freedom, which has no standard deviation: use the intervals only.',
    ]);
  });

  it('an input without uncertainty stays where it is', () => {
    for (const distribution of ['normal', 'rectangular', 'lognormal', 'arcsine'] as const) {
      const found = one(distribution, { standardUncertainty: 0 });
      expect(found.interval).toEqual([10, 10]);
      expect(found.standardUncertainty).toBe(0);
    }
  });
});

describe('the end gauge of JCGM 100:2008, H.1', () => {
  it('has the second-order terms that the first order lacks', () => {
    // H.1.7: terms of 11.7 nm and 1.7 nm raise 32 nm to 34 nm; unrounded 33.806545. The model is a sum of products
    // of independent quantities, for which second order is exact.
    const found = propagateMonteCarlo(
      ([ls, d, as, mean, swing, dAlpha, dTheta]) => ls + d - ls * (dAlpha * (mean + swing) + as * dTheta),
      [
        { name: 'l_s', value: 50_000_623, standardUncertainty: 25, unit: 'nm' },
        { name: 'd', value: 215, standardUncertainty: 9.681942, unit: 'nm' },
        rectangularOf('alpha_s', 11.5e-6, 2e-6, '1/K'),
        { name: 'theta', value: -0.1, standardUncertainty: 0.2, unit: 'K' },
        {
          name: 'swing',
          value: 0,
          standardUncertainty: 0.5 / Math.SQRT2,
          distribution: 'arcsine',
          unit: 'K',
        },
        rectangularOf('d_alpha', 0, 1e-6, '1/K'),
        rectangularOf('d_theta', 0, 0.05, 'K'),
      ],
      { draws },
    );
    within(found.mean, 50_000_838, 34 / Math.sqrt(draws));
    within(found.standardUncertainty, 33.806545, spreadError(33.8));
  });
});

function rectangularOf(name: string, value: number, halfWidth: number, unit: string): Input {
  return { name, value, standardUncertainty: halfWidth / Math.sqrt(3), distribution: 'rectangular', unit };
}

describe('correlated inputs', () => {
  const inputs = [
    { name: 'a', value: 5, standardUncertainty: 0.3, unit: 'm' },
    { name: 'b', value: 2, standardUncertainty: 0.1, unit: 'm' },
    { name: 'c', value: 1, standardUncertainty: 0.2, distribution: 'rectangular', unit: 'm' },
  ] as const;
  const linear = ([a, b, c]: readonly [number, number, number]) => a - 2 * b + c;

  it.each([-1, -0.6, 0.4, 1])('with coefficient %d scatter as the first order says', (coefficient) => {
    const correlations = [{ between: ['b', 'a'] as const, coefficient }];
    const first = propagate(linear, inputs, { correlations });
    const found = propagateMonteCarlo(linear, inputs, { correlations, draws });
    within(found.standardUncertainty, first.standardUncertainty, spreadError(first.standardUncertainty));
  });

  it('cancel altogether at 1', () => {
    const found = propagateMonteCarlo(([a, b]) => a - 3 * b, inputs, {
      correlations: [{ between: ['a', 'b'], coefficient: 1 }],
      draws: 10_000,
    });
    expect(found.standardUncertainty).toBeLessThan(1e-14);
    expect(found.mean).toBeCloseTo(-1, 12);
  });

  it('have the coefficient in their values where they are lognormal', () => {
    const pair: Input[] = [
      { name: 'a', value: 5, standardUncertainty: 2, distribution: 'lognormal', unit: '' },
      { name: 'b', value: 2, standardUncertainty: 0.5, unit: '' },
      { name: 'c', value: 3, standardUncertainty: 1, distribution: 'lognormal', unit: '' },
    ];
    const correlations = [
      { between: ['a', 'b'] as const, coefficient: 0.7 },
      { between: ['a', 'c'] as const, coefficient: -0.5 },
    ];
    const variance = (weights: readonly number[]) =>
      propagateMonteCarlo(
        ([a = 0, b = 0, c = 0]) => sum([a, b, c].map((x, i) => x * (weights[i] ?? 0))),
        pair,
        {
          correlations,
          draws,
        },
      ).standardUncertainty ** 2;
    // Var(a + b) = 4 + 0.25 + 2 · 0.7 · 2 · 0.5, Var(a + c) = 4 + 1 - 2 · 0.5 · 2; heavier tails than normal.
    expect(variance([1, 1, 0]) / 5.65).toBeCloseTo(1, 2);
    expect(variance([1, 0, 1]) / 3).toBeCloseTo(1, 1);
  });

  it('are refused with other distributions, and with coefficients that do not exist', () => {
    expect(() =>
      propagateMonteCarlo(linear, inputs, { correlations: [{ between: ['a', 'c'], coefficient: 0.5 }] }),
    ).toThrow(/"c" is correlated and has the distribution rectangular: only normal and lognormal/);
    const wide: Input[] = ['a', 'b'].map((name) => ({
      name,
      value: 1,
      standardUncertainty: 1,
      distribution: 'lognormal',
      unit: '',
    }));
    expect(() =>
      propagateMonteCarlo(sum, wide, { correlations: [{ between: ['a', 'b'], coefficient: -0.9 }] }),
    ).toThrow(/cannot have the correlation -0.9/);
  });
});

describe('draws that are not finite', () => {
  const standard: Input[] = [{ name: 'x', value: 0, standardUncertainty: 1, unit: '' }];

  it('are counted and told where the model has no value', () => {
    const found = propagateMonteCarlo((x) => Math.sqrt(x[0] ?? 0), standard, { draws });
    within(found.notFinite.undefined, draws / 2, Math.sqrt(draws) / 2);
    expect(found.notes[0]).toMatch(/^The model has no value for \d+ of 200000 draws; they are left out/);
    expect(found.interval.every(Number.isFinite)).toBe(true);
    const validation = validate(
      propagate((x) => Math.sqrt(x[0] ?? 0), standard),
      found,
    );
    expect(validation.verdict).toBe('disagree');
    expect(validation.flaws).toEqual(['undefined']);
    expect(validation.sentence).toMatch(/cannot agree: the model has no value for \d+ of 200000 draws\.$/);
  });

  it('count on their side of the interval where the model is infinite', () => {
    const cut = (at: number) =>
      propagateMonteCarlo(([x]) => ((x ?? 0) > at ? Number.POSITIVE_INFINITY : (x ?? 0)), standard, {
        draws,
      });
    // Probability above 1.9 is 0.0287, above 2 0.0228: the upper end of 95 % lies between.
    expect(cut(1.9).interval[1]).toBe(Number.POSITIVE_INFINITY);
    expect(cut(2).interval[1]).toBeCloseTo(1.96, 1);
    within(cut(2).notFinite.plusInfinity, 0.02275 * draws, Math.sqrt(0.02275 * draws));
    expect(cut(2).notes[0]).toMatch(/is infinite for \d+ of 200000 draws; they count for the intervals/);
    expect(Number.isFinite(cut(2).mean)).toBe(true);
    const mirrored = propagateMonteCarlo(([x]) => Math.log(Math.max(x ?? 0, 0)), standard, { draws });
    within(mirrored.notFinite.minusInfinity, draws / 2, Math.sqrt(draws) / 2);
    expect(mirrored.interval[0]).toBe(Number.NEGATIVE_INFINITY);
  });

  it('may be all of them', () => {
    const found = propagateMonteCarlo(() => Number.NaN, standard, { draws: 2000 });
    expect(found.notFinite.undefined).toBe(2000);
    expect(found.mean).toBeNaN();
    expect(found.interval).toEqual([Number.NaN, Number.NaN]);
  });
});
