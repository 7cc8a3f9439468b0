import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ThermocoupleType,
  thermocoupleEmf,
  thermocoupleReference,
  thermocoupleTemperature,
  thermocoupleTypes,
} from '../../src/sensing/index.ts';
import { inverseSegments } from '../../src/sensing/thermocouple-inverse-start.ts';
import { type Row, table } from '../reference/tables.ts';

function typeOf(row: Row): ThermocoupleType {
  const type = thermocoupleTypes.find((letter) => letter === row.text('type'));
  if (type === undefined) throw new Error(row.text('type'));
  return type;
}

function known(type: ThermocoupleType, emf: number, junction = 0): number {
  const found = thermocoupleTemperature(type, emf, junction);
  if (!found.ok) throw new Error(`${type} ${emf}: ${found.reason}`);
  return found.value;
}

// NIST Monograph 175 (1993), NIST SRD 60.
describe('reference functions', () => {
  const rows = table('thermocouple-tables.csv');

  it('hold every value of the tables', () => {
    expect(rows.length).toBeGreaterThan(200);
    for (const row of rows) {
      const t = row.number('t_C');
      const millivolts = thermocoupleEmf(typeOf(row), t) * 1e3;
      const where = `${row.text('type')} ${t}`;
      // Printed to 3 decimals; a tie may have been rounded either way.
      expect(Math.abs(millivolts - row.number('emf_mV_table_3dp')), where).toBeLessThan(0.0005 + 1e-9);
      expect(Math.abs(millivolts - row.number('emf_mV_polynomial_12sig')), where).toBeLessThan(1e-9);
    }
  });

  it('have the Seebeck coefficients of the same functions', () => {
    for (const row of rows) {
      const seebeck = thermocoupleReference(typeOf(row)).seebeck(row.number('t_C')) * 1e6;
      // Given to 8 significant digits, in µV/K. At a joint the two stretches differ by more than that.
      const wanted = row.number('seebeck_uV_per_C_polynomial');
      expect(Math.abs(seebeck - wanted), `${row.text('type')} ${row.text('t_C')}`).toBeLessThan(
        1e-6 + 1e-7 * Math.abs(wanted),
      );
    }
  });

  it.each(thermocoupleTypes)('type %s: derivatives agree with differences of the function', (type) => {
    const { from, to, emf, seebeck, seebeckSlope } = thermocoupleReference(type);
    const joints = [0, 630.615, 760, 1064.18, 1664.5];
    const h = 0.05;
    fc.assert(
      fc.property(fc.double({ min: from + 3 * h, max: to - 3 * h, noNaN: true }), (t) => {
        fc.pre(joints.every((joint) => Math.abs(t - joint) > 3 * h));
        const four = (f: (t: number) => number) =>
          (8 * (f(t + h) - f(t - h)) - (f(t + 2 * h) - f(t - 2 * h))) / (12 * h);
        expect(Math.abs(four(emf) - seebeck(t))).toBeLessThan(2e-13);
        expect(Math.abs(four(seebeck) - seebeckSlope(t))).toBeLessThan(2e-13);
      }),
      { seed: 8, numRuns: 200 },
    );
  });
});

describe('temperature from emf', () => {
  // The sources' own tolerance for an exact root: 1e-9 °C, everywhere.
  it.each(thermocoupleTypes)('type %s comes back to 1e-9 °C over its whole range', (type) => {
    const { tellsFrom, to, emf, temperature } = thermocoupleReference(type);
    fc.assert(
      fc.property(
        fc.double({ min: tellsFrom, max: to, noNaN: true }),
        fc.double({ min: -300, max: 2000 }),
        (t, near) => {
          expect(Math.abs(temperature(emf(t)) - t)).toBeLessThan(1e-9);
          expect(Math.abs(temperature(emf(t), near) - t)).toBeLessThan(1e-9);
        },
      ),
      { seed: 9, numRuns: 1000 },
    );
    for (const end of [tellsFrom, to]) expect(Math.abs(temperature(emf(end)) - end)).toBeLessThan(1e-9);
  });

  it('agrees with the approximate inverses within their stated errors', () => {
    const bounds = table('thermocouple-inverse-bounds.csv');
    expect(bounds.length).toBe(23);
    for (const row of bounds) {
      const type = typeOf(row);
      const segment = inverseSegments[type][row.number('segment')];
      const low = row.number('mvmin');
      const high = Math.min(row.number('mvmax'), thermocoupleReference(type).highestEmf * 1e3);
      for (let k = 0; k <= 200; k++) {
        const millivolts = low + ((high - low) * k) / 200;
        const approximate =
          segment?.coefficients.reduceRight((sum, c) => sum * millivolts + c, 0) ?? Number.NaN;
        const error = approximate - known(type, millivolts * 1e-3);
        // The statement is rounded; at the ends of the stretches it is overstepped by up to 0.004 °C.
        const where = `${row.text('type')}${row.text('segment')} at ${millivolts} mV`;
        expect(error, where).toBeGreaterThan(row.number('stated_err_min_C') - 0.004);
        expect(error, where).toBeLessThan(row.number('stated_err_max_C') + 0.004);
      }
    }
  });

  it('adds the emf of the reference junction, to 1e-6 °C of the exact root', () => {
    const rows = table('thermocouple-junctions.csv');
    expect(rows.length).toBe(23);
    for (const row of rows) {
      const type = typeOf(row);
      const junction = row.number('cold_junction_C');
      const found = known(type, row.number('measured_emf_mV') * 1e-3, junction);
      expect(Math.abs(found - row.number('t_exact_root_C')), row.text('type')).toBeLessThan(1e-6);
      expect(thermocoupleEmf(type, found, junction) * 1e3).toBeCloseTo(row.number('measured_emf_mV'), 9);
      // Adding the temperature instead is wrong by tenths of kelvins and more.
      if (junction > 0) {
        expect(
          Math.abs(known(type, row.number('measured_emf_mV') * 1e-3) + junction - found),
        ).toBeGreaterThan(0.1);
      }
    }
  });

  it('says why there is none', () => {
    const reason = (type: ThermocoupleType, millivolts: number, junction = 0) => {
      const found = thermocoupleTemperature(type, millivolts * 1e-3, junction);
      return found.ok ? found.value : found.reason;
    };
    expect(reason('T', 20.9)).toBe('above-range');
    expect(reason('T', -6.26)).toBe('below-range');
    expect(reason('T', Number.NaN)).toBe('not-a-number');
    expect(reason('T', 1, 1000)).toBe('above-range');
    expect(reason('T', 1, -300)).toBe('below-range');
    expect(reason('T', 1, Number.NaN)).toBe('not-a-number');
    expect(reason('K', Number.POSITIVE_INFINITY)).toBe('above-range');
    // Type B falls to -0.0026 mV at 21 °C: an emf from there to 0 mV belongs to two temperatures.
    expect(reason('B', -0.001)).toBe('ambiguous');
    expect(reason('B', -0.01)).toBe('below-range');
    expect(reason('B', 0.001)).toBeGreaterThan(42);
    expect(thermocoupleEmf('T', 400.1)).toBeNaN();
    expect(thermocoupleEmf('T', 20, -271)).toBeNaN();
  });
});
