import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Correlation,
  coverageFactor,
  type Input,
  propagate,
  propagateMany,
  standardUncertaintyWithin,
  type Values,
} from '../../src/quantity/index.ts';
import { column } from '../reference/tables.ts';

/** JCGM 100:2008, Table H.1: the calibration of an end gauge. Lengths in nm. */
const endGauge = [
  { name: 'l_s', value: 50_000_623, standardUncertainty: 25, degreesOfFreedom: 18, unit: 'nm' },
  { name: 'd_mean', value: 215, standardUncertainty: 5.8, degreesOfFreedom: 24, unit: 'nm' },
  { name: 'd_1', value: 0, standardUncertainty: 3.9, degreesOfFreedom: 5, unit: 'nm' },
  { name: 'd_2', value: 0, standardUncertainty: 6.7, degreesOfFreedom: 8, unit: 'nm' },
  { name: 'alpha_s', value: 11.5e-6, standardUncertainty: 2e-6 / Math.sqrt(3), unit: '1/K' },
  { name: 'theta_mean', value: -0.1, standardUncertainty: 0.2, unit: 'K' },
  { name: 'Delta', value: 0, standardUncertainty: 0.5 / Math.SQRT2, unit: 'K' },
  {
    name: 'd_alpha',
    value: 0,
    standardUncertainty: 1e-6 / Math.sqrt(3),
    degreesOfFreedom: 50,
    unit: '1/K',
  },
  { name: 'd_theta', value: 0, standardUncertainty: 0.05 / Math.sqrt(3), degreesOfFreedom: 2, unit: 'K' },
] as const satisfies readonly Input[];

type EndGauge = Values<typeof endGauge>;

const endGaugeLength = ([ls, d, d1, d2, as, mean, swing, dAlpha, dTheta]: EndGauge) =>
  ls + d + d1 + d2 - ls * (dAlpha * (mean + swing) + as * dTheta);

describe('the end gauge of JCGM 100:2008, H.1', () => {
  const found = propagate(endGaugeLength, endGauge, { coverage: 0.99 });
  const line = (name: string) => found.budget.find((entry) => entry.input === name)?.contribution;

  it('has its value, contributions and combined uncertainty', () => {
    expect(found.value).toBeCloseTo(50_000_838, 3);
    // The guide prints 32; from its inputs unrounded: 31.663879 (recomputed with exact fractions).
    expect(found.standardUncertainty).toBeCloseTo(31.663879, 5);
    expect(line('l_s')).toBeCloseTo(25, 4);
    expect(line('d_alpha')).toBeCloseTo(2.8867873, 4);
    expect(line('d_theta')).toBeCloseTo(16.599027, 4);
    expect(Math.hypot(line('d_mean') ?? 0, line('d_1') ?? 0, line('d_2') ?? 0)).toBeCloseTo(9.681942, 5);
    // Inputs to which the length is not sensitive to first order.
    expect(line('alpha_s')).toBeCloseTo(0, 6);
    expect(line('theta_mean')).toBeCloseTo(0, 6);
  });

  it('has its degrees of freedom and expanded uncertainty', () => {
    // The guide: 16.7, from rounded parts, taken as 16; k 2.92; U 93 nm from u 32 nm. The guide lumps the three
    // parts of d with 25.6 degrees of freedom first, which changes nothing but the rounding.
    expect(found.degreesOfFreedom).toBeCloseTo(16.75, 1);
    expect(coverageFactor(Math.floor(found.degreesOfFreedom), 0.99)).toBeCloseTo(2.92, 2);
    expect(Math.round(found.expandedUncertainty)).toBeGreaterThanOrEqual(91);
    expect(Math.round(found.expandedUncertainty)).toBeLessThanOrEqual(93);
  });
});

describe('the impedance of JCGM 100:2008, H.2', () => {
  const readings = ['V/V', 'I/mA', 'phi/rad'].map((heading) => column('jcgm100-h2.csv', heading));
  const [v = [], i = [], phi = []] = readings;
  const mean = (x: readonly number[]) => x.reduce((sum, a) => sum + a, 0) / x.length;
  /** Covariance of two means (JCGM 100:2008, eq. 17). */
  const covariance = (x: readonly number[], y: readonly number[]) =>
    x.reduce((sum, a, k) => sum + (a - mean(x)) * ((y[k] ?? Number.NaN) - mean(y)), 0) /
    (x.length * (x.length - 1));
  const deviation = (x: readonly number[]) => Math.sqrt(covariance(x, x));
  const coefficient = (x: readonly number[], y: readonly number[]) =>
    covariance(x, y) / (deviation(x) * deviation(y));
  const inputs = [
    { name: 'V', value: mean(v), standardUncertainty: deviation(v), degreesOfFreedom: 4, unit: 'V' },
    {
      name: 'I',
      value: mean(i) / 1000,
      standardUncertainty: deviation(i) / 1000,
      degreesOfFreedom: 4,
      unit: 'A',
    },
    { name: 'phi', value: mean(phi), standardUncertainty: deviation(phi), degreesOfFreedom: 4, unit: 'rad' },
  ] as const;
  const correlations: Correlation[] = [
    { between: ['V', 'I'], coefficient: coefficient(v, i) },
    { between: ['V', 'phi'], coefficient: coefficient(v, phi) },
    { between: ['phi', 'I'], coefficient: coefficient(i, phi) },
  ];
  const found = propagateMany(
    ([V, I, angle]) => [(V / I) * Math.cos(angle), (V / I) * Math.sin(angle), V / I],
    inputs,
    { correlations },
  );
  const [R, X, Z] = found.outputs;

  it('has the published resistance, reactance and impedance', () => {
    // Printed: 127.732(71), 219.847(295), 254.260(236); behind them the same from the readings, unrounded
    // (recomputed with exact fractions).
    const recomputed = [
      [127.732169928, 0.071071407],
      [219.846511913, 0.29558168],
      [254.259701948, 0.23633613],
    ];
    for (const [k, output] of found.outputs.entries()) {
      expect(output.value).toBeCloseTo(recomputed[k]?.[0] ?? Number.NaN, 8);
      expect(output.standardUncertainty).toBeCloseTo(recomputed[k]?.[1] ?? Number.NaN, 7);
    }
    expect([R, X, Z].map((y) => y?.value.toFixed(3))).toEqual(['127.732', '219.847', '254.260']);
    expect(R?.standardUncertainty).toBeCloseTo(0.071, 3);
    expect(Z?.standardUncertainty).toBeCloseTo(0.236, 3);
  });

  it('has the published correlations of the three', () => {
    // Printed: -0.588, -0.485, 0.993; unrounded as above.
    expect(found.correlation[0]?.[1]).toBeCloseTo(-0.58842978, 7);
    expect(found.correlation[0]?.[2]).toBeCloseTo(-0.48525922, 7);
    expect(found.correlation[1]?.[2]).toBeCloseTo(0.99251165, 7);
    expect(found.correlation[2]?.[1]).toBe(found.correlation[1]?.[2]);
    expect(found.covariance[0]?.[0]).toBeCloseTo((R?.standardUncertainty ?? 0) ** 2, 12);
  });

  it('keeps the four degrees of freedom of the five sets of readings', () => {
    // The guide evaluates each output from five values of it as well: 4 degrees of freedom.
    for (const output of found.outputs) expect(output.degreesOfFreedom).toBeCloseTo(4, 9);
  });
});

describe('degrees of freedom', () => {
  it('are the fewest of the inputs that are correlated', () => {
    // Common practice, no source: the pair has 5; with an independent part of the same variance and 10 degrees of
    // freedom, eq. G.2b gives 1/(0.25/5 + 0.25/10) = 13.33.
    const inputs = [
      { name: 'a', value: 1, standardUncertainty: 3, degreesOfFreedom: 5, unit: '' },
      { name: 'b', value: 1, standardUncertainty: 4, degreesOfFreedom: 50, unit: '' },
      { name: 'c', value: 1, standardUncertainty: 7, degreesOfFreedom: 10, unit: '' },
    ] as const;
    const correlations = [{ between: ['a', 'b'] as const, coefficient: 1 }];
    const found = propagate(([a, b, c]) => a + b + c, inputs, { correlations });
    expect(found.standardUncertainty).toBeCloseTo(7 * Math.SQRT2, 9);
    expect(found.degreesOfFreedom).toBeCloseTo(40 / 3, 6);
    // An input that contributes nothing does not count.
    expect(propagate(([, b]) => b, inputs, { correlations }).degreesOfFreedom).toBeCloseTo(50, 6);
  });

  it('are those of the product in JCGM 100:2008, G.4.1, Note', () => {
    // Relative uncertainties of 0.25 %, 0.57 % and 0.82 % from 10, 5 and 15 readings: 1.03 %, 19.0, 2.09, 2.2 %
    // (inputs from memory); unrounded 18.99874231.
    const factors = [
      { name: 'X1', value: 1, standardUncertainty: 0.0025, degreesOfFreedom: 9, unit: '' },
      { name: 'X2', value: 1, standardUncertainty: 0.0057, degreesOfFreedom: 4, unit: '' },
      { name: 'X3', value: 1, standardUncertainty: 0.0082, degreesOfFreedom: 14, unit: '' },
    ] as const;
    const found = propagate(([a, b, c]) => a * b * c, factors);
    expect(found.standardUncertainty).toBeCloseTo(0.01029465881, 9);
    expect(found.degreesOfFreedom).toBeCloseTo(18.99874231, 5);
    expect(found.coverageFactor).toBeCloseTo(2.09, 2);
    expect(found.expandedUncertainty).toBeCloseTo(0.022, 3);
  });

  it('give the interval of NIST Technical Note 1900, Example E2', () => {
    // Possolo (2015): mean of 22 daily maxima 25.6 °C, u 0.872 °C, interval 23.8 °C to 27.4 °C (readings from memory).
    const inputs = [
      {
        name: 't',
        value: 25.59090909090909,
        standardUncertainty: 0.872491062009295,
        degreesOfFreedom: 21,
        unit: '°C',
      },
    ] as const;
    const { interval } = propagate(([t]) => t, inputs);
    expect(interval[0]).toBeCloseTo(23.776464598953417, 8);
    expect(interval[1]).toBeCloseTo(27.405353582863764, 8);
  });
});

/** In steps of a millionth of the range: plain doubles would nearly all be next to 0. */
const number = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1e6 }).map((n) => min + (max - min) * (n / 1e6));
const anyInput = fc.record({
  value: number(-100, 100),
  standardUncertainty: number(0, 10),
  degreesOfFreedom: number(1, 50),
});
const anyInputs = fc
  .array(anyInput, { minLength: 2, maxLength: 6 })
  .map((list) => list.map((input, k): Input => ({ ...input, name: `x${k}`, unit: 'm' })));

describe('first-order propagation', () => {
  const model = (x: readonly number[]) =>
    x.reduce((sum, a, k) => sum + (k + 1) * a + Math.sin(a / 50), 0) + (x[0] ?? 0) * (x[1] ?? 0);

  it('shares the whole variance out, correlations apart', () => {
    fc.assert(
      fc.property(anyInputs, number(-0.9, 0.9), (inputs, coefficient) => {
        const found = propagate(model, inputs, { correlations: [{ between: ['x1', 'x0'], coefficient }] });
        fc.pre(found.standardUncertainty > 1e-6);
        const own = found.budget.reduce((sum, line) => sum + line.share, 0);
        const common = found.correlated.reduce((sum, line) => sum + line.share, 0);
        expect(own + common).toBeCloseTo(1, 9);
        // Written out as in eq. 16.
        const c = found.budget.map((line) => line.sensitivity * line.standardUncertainty);
        const variance = c.reduce((sum, a) => sum + a * a, 0) + 2 * coefficient * (c[0] ?? 0) * (c[1] ?? 0);
        expect(found.standardUncertainty ** 2 / variance).toBeCloseTo(1, 9);
      }),
      { seed: 11 },
    );
  });

  it('follows a change of the output unit', () => {
    fc.assert(
      fc.property(anyInputs, number(0.01, 100), number(-1000, 1000), (inputs, factor, offset) => {
        const plain = propagate(model, inputs);
        const scaled = propagate((x) => factor * model(x) + offset, inputs);
        fc.pre(plain.standardUncertainty > 1e-3);
        expect(scaled.value).toBeCloseTo(factor * plain.value + offset, 6);
        expect(scaled.standardUncertainty / (factor * plain.standardUncertainty)).toBeCloseTo(1, 6);
        expect(scaled.degreesOfFreedom / plain.degreesOfFreedom).toBeCloseTo(1, 6);
      }),
      { seed: 12 },
    );
  });

  it('has the sensitivities that differentiation gives', () => {
    fc.assert(
      fc.property(number(0.1, 50), number(0.1, 50), number(1e-6, 0.2), (a, b, relative) => {
        const inputs = [
          { name: 'a', value: a, standardUncertainty: relative * a, unit: '' },
          { name: 'b', value: b, standardUncertainty: relative * b, unit: '' },
        ] as const;
        const found = propagate(([x, y]) => x ** 1.5 / y + Math.log(y), inputs);
        const exact = [(1.5 * Math.sqrt(a)) / b, 1 / b - a ** 1.5 / (b * b)];
        for (const [k, line] of found.budget.entries()) {
          const scale = Math.abs(found.value) / (k === 0 ? a : b) + Math.abs(exact[k] ?? 0) + 1 / b;
          expect(Math.abs(line.sensitivity - (exact[k] ?? 0)) / scale).toBeLessThan(1e-8);
        }
      }),
      { seed: 13 },
    );
  });

  it('takes sensitivities that are known', () => {
    const inputs = [{ name: 'a', value: 2, standardUncertainty: 0.1, unit: '' }] as const;
    const found = propagate(([a]) => a * a, inputs, { sensitivities: [4] });
    expect(found.standardUncertainty).toBeCloseTo(0.4, 14);
    expect(found.budget[0]?.sensitivity).toBe(4);
  });

  it('uses the side of the estimate on which the model is defined', () => {
    const inputs = [{ name: 'a', value: 0, standardUncertainty: 0.1, unit: '' }] as const;
    const right = propagate(([a]) => (a < 0 ? Number.NaN : 3 * a + a * a), inputs);
    const left = propagate(([a]) => (a > 0 ? Number.NaN : 3 * a + a * a), inputs);
    expect(right.standardUncertainty).toBeCloseTo(0.3, 12);
    expect(left.standardUncertainty).toBeCloseTo(0.3, 12);
    expect(propagate(([a]) => (a === 0 ? 1 : Number.NaN), inputs).standardUncertainty).toBeNaN();
  });
});

describe('correlation', () => {
  const pair = (coefficient: number) => ({ correlations: [{ between: ['a', 'b'] as const, coefficient }] });
  const inputs = [
    { name: 'a', value: 5, standardUncertainty: 0.3, unit: 'm' },
    { name: 'b', value: 2, standardUncertainty: 0.1, unit: 'm' },
  ] as const;

  it('adds linearly at 1, takes away at -1', () => {
    expect(propagate(([a, b]) => a + b, inputs, pair(1)).standardUncertainty).toBeCloseTo(0.4, 12);
    expect(propagate(([a, b]) => a + b, inputs, pair(-1)).standardUncertainty).toBeCloseTo(0.2, 12);
    expect(propagate(([a, b]) => a - b, inputs, pair(1)).standardUncertainty).toBeCloseTo(0.2, 12);
  });

  it('is exact where everything cancels', () => {
    const found = propagate(([a, b]) => a - 3 * b, inputs, pair(1));
    expect(found.standardUncertainty).toBe(0);
    expect(found.interval).toEqual([found.value, found.value]);
    expect(found.degreesOfFreedom).toBe(Number.POSITIVE_INFINITY);
  });

  it('makes an input of its own where a quantity enters twice', () => {
    // Area and volume from one diameter: V/A has the relative uncertainty of the diameter, not √13 times it.
    const [d, u] = [0.012, 5e-5];
    const once = propagate(
      ([x]) => ((Math.PI / 6) * x ** 3) / (Math.PI * x ** 2),
      [{ name: 'd', value: d, standardUncertainty: u, unit: 'm' }],
    );
    const { outputs, correlation } = propagateMany(
      ([x]) => [(Math.PI / 6) * x ** 3, Math.PI * x ** 2],
      [{ name: 'd', value: d, standardUncertainty: u, unit: 'm' }],
    );
    const [volume, area] = outputs;
    const twice = propagate(
      ([v, a]) => v / a,
      [
        {
          name: 'v',
          value: volume?.value ?? 0,
          standardUncertainty: volume?.standardUncertainty ?? 0,
          unit: 'm³',
        },
        {
          name: 'a',
          value: area?.value ?? 0,
          standardUncertainty: area?.standardUncertainty ?? 0,
          unit: 'm²',
        },
      ],
      { correlations: [{ between: ['v', 'a'], coefficient: correlation[0]?.[1] ?? 0 }] },
    );
    expect(once.standardUncertainty / (u / 6)).toBeCloseTo(1, 8);
    expect(twice.standardUncertainty / (u / 6)).toBeCloseTo(1, 6);
  });

  it('is refused where it contradicts itself', () => {
    const three = ['a', 'b', 'c'].map((name) => ({ name, value: 1, standardUncertainty: 1, unit: '' }));
    const impossible: Correlation[] = [
      { between: ['a', 'b'], coefficient: 0.9 },
      { between: ['b', 'c'], coefficient: 0.9 },
      { between: ['a', 'c'], coefficient: -0.9 },
    ];
    const sum = (x: readonly number[]) => x.reduce((s, a) => s + a, 0);
    expect(() => propagate(sum, three, { correlations: impossible })).toThrow(/contradict each other/);
    expect(() =>
      propagate(sum, three, { correlations: [{ between: ['a', 'z'], coefficient: 0.1 }] }),
    ).toThrow('A correlation names "z", which is no input: name one of a, b, c.');
    expect(() => propagate(sum, three, { correlations: [{ between: ['a', 'a'], coefficient: 1 }] })).toThrow(
      /names one input twice/,
    );
    expect(() =>
      propagate(sum, three, { correlations: [{ between: ['a', 'b'], coefficient: 1.2 }] }),
    ).toThrow(/is 1.2: give a number from -1 to 1/);
  });
});

describe('inputs that cannot be used', () => {
  const good: Input = { name: 'a', value: 1, standardUncertainty: 1, unit: '' };
  it.each<[Input[], RegExp]>([
    [[good, good], /"a" is there twice/],
    [[{ ...good, value: Number.NaN }], /has the value NaN/],
    [[{ ...good, standardUncertainty: -1 }], /has the standard uncertainty -1/],
    [[{ ...good, standardUncertainty: Number.POSITIVE_INFINITY }], /standard uncertainty Infinity/],
    [[{ ...good, degreesOfFreedom: 0 }], /has 0 degrees of freedom/],
    [[{ ...good, value: 0, distribution: 'lognormal' }], /is lognormal with the value 0/],
    [[{ ...good, distribution: 't' }], /a t distribution without degrees of freedom/],
  ])('%j are named', (inputs, message) => {
    expect(() => propagate((x) => x[0] ?? 0, inputs)).toThrow(message);
  });

  it('are options too', () => {
    expect(() => propagate(([a]) => a, [good], { coverage: 1 })).toThrow(/The coverage is 1/);
    expect(() => propagate(([a]) => a, [good], { sensitivities: [1, 2] })).toThrow(/do not fit: give 1/);
  });
});

describe('bounded quantities', () => {
  it('have the standard uncertainties of the guide', () => {
    // JCGM 100:2008, 4.3.7 (a/√3), 4.3.9 (a/√6); H.1.3.4 (0.5 °C amplitude, 0.35 °C).
    expect(standardUncertaintyWithin(1)).toBeCloseTo(0.577350269, 9);
    expect(standardUncertaintyWithin(1, 'triangular')).toBeCloseTo(0.40824829, 8);
    expect(standardUncertaintyWithin(0.5, 'arcsine')).toBeCloseTo(0.35, 2);
  });
});
