import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type PlatinumClass,
  platinumResistance,
  platinumSensitivity,
  platinumTemperature,
  platinumTolerance,
  type ThermocoupleClass,
  thermocoupleTolerance,
  thermocoupleTypes,
  uniformUncertainty,
} from '../../src/sensing/index.ts';
import { table } from '../reference/tables.ts';

function known(resistance: number, nominal: number): number {
  const found = platinumTemperature(resistance, nominal);
  if (!found.ok) throw new Error(found.reason);
  return found.value;
}

// IEC 60751:2008.
describe('platinum sensors', () => {
  const rows = table('pt100.csv');

  it('have the resistances of the table', () => {
    expect(rows.length).toBe(28);
    for (const row of rows) {
      const t = row.number('t_C');
      const resistance = platinumResistance(t, 100);
      // Ten significant digits of the equation; two decimals in print.
      expect(Math.abs(resistance - row.number('R_ohm_CVD'))).toBeLessThan(1e-7);
      if (row.text('R_ohm_published_2dp') !== '') {
        expect(Math.abs(resistance - row.number('R_ohm_published_2dp'))).toBeLessThan(0.005);
      }
      expect(Math.abs(platinumSensitivity(t, 100) - row.number('dR_dt_ohm_per_C'))).toBeLessThan(1e-7);
      expect(platinumResistance(t, 1000)).toBeCloseTo(10 * resistance, 9);
    }
  });

  it('come back to 1e-9 °C', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -200, max: 850, noNaN: true }),
        fc.constantFrom(100, 500, 1000),
        (t, nominal) => {
          expect(Math.abs(known(platinumResistance(t, nominal), nominal) - t)).toBeLessThan(1e-9);
        },
      ),
      { seed: 10, numRuns: 1000 },
    );
    for (const t of [-200, 0, 850]) expect(known(platinumResistance(t, 100), 100)).toBeCloseTo(t, 9);
  });

  it('say why there is no temperature', () => {
    expect(platinumTemperature(18, 100)).toEqual({ ok: false, reason: 'below-range' });
    expect(platinumTemperature(391, 100)).toEqual({ ok: false, reason: 'above-range' });
    expect(platinumTemperature(Number.NaN, 100)).toEqual({ ok: false, reason: 'not-a-number' });
    expect(platinumResistance(851, 100)).toBeNaN();
    expect(platinumSensitivity(-201, 100)).toBeNaN();
  });

  it('keep the tolerances of the standard', () => {
    const classes: readonly PlatinumClass[] = ['AA', 'A', 'B', 'C'];
    for (const row of rows) {
      const t = row.number('t_C');
      for (const name of classes) {
        const written = row.number(`tol_${name}_C`);
        const found = platinumTolerance(name, t);
        if (Number.isNaN(written)) expect(found, `${name} ${t}`).toBeNull();
        else expect(found, `${name} ${t}`).toBeCloseTo(written, 12);
      }
    }
  });
});

// IEC 60584-1.
describe('tolerances of thermocouples', () => {
  const rows = table('thermocouple-tolerances.csv');
  const classes: readonly ThermocoupleClass[] = [1, 2, 3];

  it('follow every row of the standard and end where it ends', () => {
    expect(rows.length).toBe(20);
    for (const row of rows) {
      const type = thermocoupleTypes.find((letter) => letter === row.text('type'));
      const toleranceClass = classes.find((number) => number === row.number('class'));
      if (type === undefined || toleranceClass === undefined) throw new Error('bad row');
      const { from, to, a, b } = {
        from: row.number('from'),
        to: row.number('to'),
        a: row.number('a'),
        b: row.number('b'),
      };
      for (let k = 0; k <= 100; k++) {
        const t = from + ((to - from) * k) / 100;
        const sloped = t <= 1100 ? a : a + b * (t - 1100);
        const wanted = row.text('rule') === 'sloped' ? sloped : Math.max(a, b * Math.abs(t));
        expect(thermocoupleTolerance(type, toleranceClass, t)).toBeCloseTo(wanted, 12);
      }
      expect(thermocoupleTolerance(type, toleranceClass, from - 1)).toBeNull();
      expect(thermocoupleTolerance(type, toleranceClass, to + 1)).toBeNull();
    }
    expect(thermocoupleTolerance('B', 1, 1000)).toBeNull();
    expect(thermocoupleTolerance('J', 3, 0)).toBeNull();
  });

  it('stand for the uncertainty of a uniform distribution (JCGM 100, 4.3.7)', () => {
    expect(uniformUncertainty(1)).toBeCloseTo(0.57735026919, 11);
  });
});
