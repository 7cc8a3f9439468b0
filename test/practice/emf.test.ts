import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { emfAt, tabulatedEmf, tabulatedMistake, temperatureAt } from '../../src/practice/emf.ts';
import { type ThermocoupleType, thermocoupleTypes } from '../../src/sensing/index.ts';
import { table } from '../reference/tables.ts';

// NIST Monograph 175 (Burns et al., 1993), NIST SRD 60: see the head of the file.
const published = table('thermocouple-tables.csv').map((row) => ({
  type: row.text('type'),
  t: row.number('t_C'),
  tabulated: row.number('emf_mV_table_3dp'),
  exact: row.number('emf_mV_polynomial_12sig'),
  seebeck: row.number('seebeck_uV_per_C_polynomial'),
}));

const of = (type: ThermocoupleType) => published.filter((row) => row.type === type);

/** Ranges of the letter types, °C: NIST Monograph 175. */
const ranges: Readonly<Record<ThermocoupleType, readonly [number, number]>> = {
  B: [0, 1820],
  E: [-270, 1000],
  J: [-210, 1200],
  K: [-270, 1372],
  N: [-270, 1300],
  R: [-50, 1768.1],
  S: [-50, 1768.1],
  T: [-270, 400],
};

describe.each(thermocoupleTypes)('type %s', (type) => {
  test('has the published emf', () => {
    expect(of(type).length).toBeGreaterThan(10);
    for (const { t, tabulated, exact } of of(type)) {
      // Printed with three decimals: within half of the last.
      expect(Math.abs(emfAt(type, t) * 1e3 - tabulated)).toBeLessThan(0.000_501);
      expect(Math.abs(emfAt(type, t) * 1e3 - exact)).toBeLessThan(1e-10);
    }
  });

  test('has it from the fast table, too, between its nodes as well', () => {
    const [from, to] = ranges[type];
    const whole = tabulatedEmf(type, from, to);
    for (const { t, exact } of of(type)) expect(Math.abs(whole(t) - exact * 1e-3)).toBeLessThan(1e-12);
    fc.assert(
      fc.property(fc.double({ min: from, max: to, noNaN: true }), (t) => {
        expect(Math.abs(whole(t) - emfAt(type, t))).toBeLessThan(1e-12);
      }),
      { seed: 4, numRuns: 2000 },
    );
  });

  test('gives the temperature back', () => {
    for (const { t, exact, seebeck } of of(type)) {
      // Below 50 °C the emf of type B tells nothing, near -270 °C that of the others next to nothing.
      // At the ends themselves the rounded emf may lie outside.
      if (Math.abs(seebeck) < 0.3 || ranges[type].includes(t)) continue;
      // 12 significant digits of the emf, through the published slope.
      const digits = Math.max(1e-9, (1e-11 * Math.abs(exact) * 1e3) / seebeck);
      expect(Math.abs(temperatureAt(type, exact * 1e-3) - t)).toBeLessThan(digits + 1e-7);
    }
  });

  test('ends where the published function ends', () => {
    const [from, to] = ranges[type];
    expect(() => emfAt(type, from)).not.toThrow();
    expect(() => emfAt(type, to)).not.toThrow();
    for (const t of [from - 0.01, to + 0.01, Number.NaN]) {
      expect(() => emfAt(type, t)).toThrow(`from ${from} to ${to} °C`);
      expect(() => tabulatedEmf(type, 20, t)).toThrow(RangeError);
    }
    expect(() => temperatureAt(type, 1)).toThrow('No temperature gives');
  });
});

describe('a logger set to another type', () => {
  // By the printed tables of NIST Monograph 175: 22 °C and 90 °C of type K are 0.879 and 3.682 mV. Type J has 0.866
  // and 0.916 mV at 17 and 18 °C, 3.650 and 3.703 mV at 70 and 71 °C (from memory of the printed tables).
  test('reads type K as type J between the neighbours that the printed tables give', () => {
    const seen = tabulatedMistake({ junction: 'K', setTo: 'J', terminals: 0 }, 15, 100);
    expect(emfAt('J', seen(22)) * 1e3).toBeCloseTo(0.879, 3);
    expect(emfAt('J', seen(90)) * 1e3).toBeCloseTo(3.682, 3);
    expect(seen(22)).toBeGreaterThan(17);
    expect(seen(22)).toBeLessThan(18);
    expect(seen(90)).toBeGreaterThan(70);
    expect(seen(90)).toBeLessThan(71);
  });

  test.each([
    ['K', 'J'],
    ['K', 'T'],
    ['T', 'K'],
    ['J', 'E'],
    ['N', 'S'],
  ] as const)('of type %s read as %s: the emf is that of the junction', (junction, setTo) => {
    const seen = tabulatedMistake({ junction, setTo, terminals: 0 }, 5, 180);
    for (let t = 5; t <= 180; t += 0.37) {
      // 1e-4 K of the smaller Seebeck coefficients is about 5e-10 V.
      expect(Math.abs(emfAt(setTo, seen(t)) - emfAt(junction, t))).toBeLessThan(5e-11);
      expect(Math.abs(seen(t) - temperatureAt(setTo, emfAt(junction, t)))).toBeLessThan(1e-6);
    }
  });

  test('of its own type shows the temperature', () => {
    const seen = tabulatedMistake({ junction: 'T', setTo: 'T', terminals: 0 }, 21, 21);
    expect(seen(21)).toBeCloseTo(21, 9);
  });

  test('shows nothing where that type has no such emf', () => {
    expect(() => tabulatedMistake({ junction: 'E', setTo: 'R', terminals: 0 }, 20, 900)).toThrow('type R');
  });
});
