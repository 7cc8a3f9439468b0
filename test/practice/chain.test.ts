import { describe, expect, test } from 'vitest';
import type { BenchTrial, SimulatedChain, SimulatedOutput } from '../../src/practice/bench-types.ts';
import { throughChain } from '../../src/practice/chain.ts';
import { emfAt } from '../../src/practice/emf.ts';
import { streamsOf } from '../../src/practice/streams.ts';
import { table } from '../reference/tables.ts';
import { benchTrial } from './bench.ts';

const silent = {
  whiteNoise: 0,
  correlatedNoise: [],
  hum: { amplitude: 0, frequency: 50 },
  offset: 0,
  zeroDrift: 0,
} as const;
const degrees = { kind: 'degrees', unit: 'degC', step: 0, range: null, mistaken: null } as const;
const volts = {
  kind: 'volts',
  unit: 'mV',
  type: 'T',
  reference: 0,
  compensated: false,
  gain: 1,
  zero: 0,
  range: null,
  bits: null,
} as const;

function trialWith(chain: Partial<SimulatedChain>, rate = 100, seed = 1): BenchTrial {
  const output: SimulatedOutput = degrees;
  return {
    ...benchTrial,
    seed,
    chain: { ...silent, output, ...chain },
    logger: { ...benchTrial.logger, rate },
  };
}

const logged = (junction: ArrayLike<number>, trial: BenchTrial) => [
  ...throughChain(Float64Array.from(junction), trial, streamsOf(trial.seed)),
];

/** Emf of type T in mV by the 12-digit column of NIST Monograph 175. */
const emfOfT = new Map(
  table('thermocouple-tables.csv')
    .filter((row) => row.text('type') === 'T')
    .map((row) => [row.number('t_C'), row.number('emf_mV_polynomial_12sig')]),
);
const emf = (t: number) => emfOfT.get(t) ?? Number.NaN;
const listed = [...emfOfT.keys()].filter((t) => t >= 0 && t <= 200);

describe('degrees', () => {
  test('in each unit', () => {
    const t = [0, 20.5, 100];
    expect(logged(t, trialWith({}))).toEqual(t);
    // 0 and 100 °C by definition of the scales.
    expect(logged([0, 100], trialWith({ output: { ...degrees, unit: 'degF' } }))).toEqual([32, 212]);
    expect(logged([0, 100], trialWith({ output: { ...degrees, unit: 'K' } }))).toEqual([273.15, 373.15]);
  });

  test('in steps of the logged unit: on the grid, never further off than half a step, uniform between', () => {
    const step = 0.25;
    const t = Float64Array.from({ length: 20_000 }, (_, i) => 20 + i * 0.004_321);
    const shown = logged(t, trialWith({ output: { ...degrees, step } }));
    expect(shown.filter((value) => !Number.isInteger(value / step))).toEqual([]);
    const errors = shown.map((value, i) => value - (t[i] ?? 0));
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(step / 2);
    // Variance of a rounding error: step²/12 (JCGM 100:2008, F.2.2.1).
    const variance = errors.reduce((sum, e) => sum + e * e, 0) / errors.length;
    expect(variance).toBeCloseTo(step ** 2 / 12, 4);
  });

  test('are held at the ends of the range, which is in °C whatever the unit', () => {
    const output = { ...degrees, unit: 'degF', range: { from: 0, to: 100 } } as const;
    expect(logged([-5, 50, 150], trialWith({ output }))).toEqual([32, 122, 212]);
  });

  test('of a mistaken type are those at which that type has the emf of the junction', () => {
    // Printed emf of type K at 100 °C, 4.096 mV, and of type J: 4.077 mV at 78, 4.133 mV at 79 °C (NIST Monograph
    // 175; type J from memory of the printed table).
    const [seen] = logged(
      [100],
      trialWith({ output: { ...degrees, mistaken: { junction: 'K', setTo: 'J', terminals: 0 } } }),
    );
    expect(seen).toBeGreaterThan(78);
    expect(seen).toBeLessThan(79);
  });
});

test('a logger set to a mistaken type shows a junction at the temperature of its terminals rightly', () => {
  const mistaken = { junction: 'K', setTo: 'J', terminals: 22 } as const;
  const [cold, hot] = logged([22, 100], trialWith({ output: { ...degrees, mistaken } }));
  expect(cold).toBeCloseTo(22, 6);
  // Loop law: what is added at the terminals is the other type's emf there.
  const expected = emfAt('K', 100) - emfAt('K', 22) + emfAt('J', 22);
  expect(emfAt('J', hot ?? Number.NaN)).toBeCloseTo(expected, 9);
});

describe('volts', () => {
  test('against an ice point are the published emf', () => {
    logged(listed, trialWith({ output: volts })).forEach((value, i) => {
      expect(Math.abs(value - emf(listed[i] ?? Number.NaN))).toBeLessThan(1e-9);
    });
  });

  test('against a warm reference junction are less by its emf, and not with compensation', () => {
    const warm = { ...volts, reference: 20 } as const;
    logged(listed, trialWith({ output: warm })).forEach((value, i) => {
      expect(Math.abs(value - (emf(listed[i] ?? Number.NaN) - emf(20)))).toBeLessThan(1e-9);
    });
    const compensated = logged(listed, trialWith({ output: { ...warm, compensated: true } }));
    expect(compensated).toEqual(logged(listed, trialWith({ output: volts })));
  });

  test('go through the gain and the zero of the amplifier, in each unit', () => {
    const output = { ...volts, unit: 'V', gain: 200, zero: 0.01 } as const;
    const [inVolts] = logged([100], trialWith({ output }));
    expect(inVolts).toBeCloseTo(0.01 + 0.2 * emf(100), 10);
    expect(logged([100], trialWith({ output: { ...output, unit: 'mV' } }))[0]).toBeCloseTo(
      1e3 * (inVolts ?? 0),
      8,
    );
    expect(logged([100], trialWith({ output: { ...output, unit: 'uV' } }))[0]).toBeCloseTo(
      1e6 * (inVolts ?? 0),
      5,
    );
  });

  test('are rounded to the converter’s own grid, which begins at the low end of its range', () => {
    const range = { from: -1.25, to: 1.25 };
    const step = 2.5 / 2 ** 12;
    const output = { ...volts, unit: 'V', gain: 200, range, bits: 12 } as const;
    const t = Float64Array.from({ length: 5000 }, (_, i) => 20 + i * 0.02);
    const exact = logged(t, trialWith({ output: { ...output, bits: null } }));
    const rounded = logged(t, trialWith({ output }));
    const codes = rounded.map((value) => (value - range.from) / step);
    expect(Math.max(...codes.map((code) => Math.abs(code - Math.round(code))))).toBeLessThan(1e-9);
    const errors = rounded.map((value, i) => Math.abs(value - (exact[i] ?? 0)));
    expect(Math.max(...errors)).toBeLessThanOrEqual(step / 2 + 1e-12);
    expect(new Set(rounded).size).toBeGreaterThan(1000);
  });

  test('are clipped at the range: at its ends without, at the last code with a converter', () => {
    const output = { ...volts, range: { from: 0, to: 0.002 } } as const;
    const t = [0, 40, 60, 100, 200];
    const plain = logged(t, trialWith({ output }));
    expect(plain.slice(2)).toEqual([2, 2, 2]);
    expect(plain[1]).toBeCloseTo(emf(40), 9);
    const coded = logged(t, trialWith({ output: { ...output, bits: 8 } }));
    expect(coded.slice(2)).toEqual(Array.from({ length: 3 }, () => expect.closeTo((2 * 255) / 256, 12)));
    const below = { ...volts, reference: 60, range: { from: -0.001, to: 0.001 } } as const;
    expect(logged([10, 60], trialWith({ output: below }))).toEqual([-1, expect.closeTo(0, 9)]);
  });

  test('need a range where there is a converter, and a junction within the type’s range', () => {
    expect(() => logged([20], trialWith({ output: { ...volts, bits: 16 } }))).toThrow('needs a range');
    expect(() => logged([401], trialWith({ output: volts }))).toThrow('from -270 to 400 °C');
  });
});

describe('what disturbs the signal', () => {
  const flat = (n: number) => new Float64Array(n).fill(40);
  const spread = (values: readonly number[], about: number) =>
    Math.sqrt(values.reduce((sum, x) => sum + (x - about) ** 2, 0) / values.length);

  test('offset and drift of the zero add up in temperature, before the emf', () => {
    expect(logged(flat(3), trialWith({ offset: 0.5, zeroDrift: 2 }, 10))).toEqual([40.5, 40.7, 40.9]);
    const [shifted] = logged(flat(1), trialWith({ offset: 10, output: volts }));
    expect(shifted).toBeCloseTo(emf(50), 9);
  });

  test('white noise and several correlated ones add their variances', () => {
    const values = logged(
      flat(200_000),
      trialWith({
        whiteNoise: 0.3,
        correlatedNoise: [
          { standardDeviation: 0.2, correlationTime: 0.05 },
          { standardDeviation: 0.1, correlationTime: 0.2 },
        ],
      }),
    );
    // 0.09 + 0.04 + 0.01; the slowest has 5000 correlation times, so the sum is good to 1 %.
    expect(spread(values, 40)).toBeCloseTo(Math.sqrt(0.14), 2);
  });

  test('hum has its amplitude', () => {
    const values = logged(flat(1000), trialWith({ hum: { amplitude: 0.4, frequency: 50 } }, 1010));
    // Over whole periods the deviation of a sine is its amplitude over √2.
    expect(spread(values.slice(0, 1010), 40)).toBeCloseTo(0.4 / Math.SQRT2, 2);
    expect(Math.max(...values)).toBeLessThanOrEqual(40.4);
  });

  test('switching one on does not change another', () => {
    const white = logged(flat(50), trialWith({ whiteNoise: 0.1 }));
    const hum = { amplitude: 0.3, frequency: 50 };
    const correlatedNoise = [{ standardDeviation: 0.2, correlationTime: 1 }];
    const others = logged(flat(50), trialWith({ hum, correlatedNoise }));
    const all = logged(flat(50), trialWith({ whiteNoise: 0.1, hum, correlatedNoise }));
    all.forEach((value, i) => {
      expect(value - 40).toBeCloseTo((white[i] ?? 0) - 40 + (others[i] ?? 0) - 40, 12);
    });
  });

  test('is the same for the same seed and another for another', () => {
    const chain = { whiteNoise: 0.1, hum: { amplitude: 0.3, frequency: 50 } };
    expect(logged(flat(20), trialWith(chain))).toEqual(logged(flat(20), trialWith(chain)));
    expect(logged(flat(20), trialWith(chain, 100, 2))).not.toEqual(logged(flat(20), trialWith(chain)));
  });

  test('what goes in is left as it was', () => {
    const junction = flat(5);
    throughChain(junction, trialWith({ whiteNoise: 1 }), streamsOf(1));
    expect([...junction]).toEqual([40, 40, 40, 40, 40]);
  });
});
