import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { airDensity, airState, airViscosity, vapourFraction } from '../../src/prediction/air.ts';
import {
  dryAirCompressibility,
  dryAirMolarDensity,
  dryAirMolarMass,
  dryAirSpecificHeat,
} from '../../src/prediction/air-equation.ts';
import { dryAirConductivity, dryAirViscosity } from '../../src/prediction/air-transport.ts';
import { type Row, table } from '../reference/tables.ts';

/** Relative difference. */
const off = (value: number, reference: number) => Math.abs(value / reference - 1);

describe('dry air', () => {
  const rows = table('air-dry.csv');

  test('the equation of state and the transport equations give the values computed apart from them', () => {
    for (const row of rows) {
      const t = row.number('temperature');
      const molarDensity = dryAirMolarDensity(t, 101_325);
      // Eight figures are given.
      expect(off(molarDensity, row.number('molarDensity'))).toBeLessThan(2e-8);
      expect(off(molarDensity * dryAirMolarMass, row.number('density'))).toBeLessThan(1e-7);
      expect(off(dryAirSpecificHeat(t, molarDensity), row.number('specificHeat'))).toBeLessThan(1e-7);
      expect(off(dryAirViscosity(t, molarDensity), row.number('viscosity'))).toBeLessThan(1e-7);
      expect(off(dryAirConductivity(t, molarDensity), row.number('conductivity'))).toBeLessThan(1e-7);
      expect(off(dryAirCompressibility(t, 101_325), row.number('compressibility'))).toBeLessThan(1e-7);
    }
    expect(rows.length).toBeGreaterThan(30);
  });

  test('the state that predictions use agrees with the same values within 1e-6', () => {
    for (const row of rows) {
      const state = airState(row.number('temperature'), 101_325);
      for (const name of ['density', 'specificHeat', 'viscosity', 'conductivity', 'prandtl'] as const) {
        expect(off(state[name], row.number(name))).toBeLessThan(1e-6);
      }
    }
  });

  test.each(table('air-check-values.csv').map((row) => [row.number('temperature'), row] as const))(
    'check values of Lemmon & Jacobsen (2004) at %d K',
    (t, row) => {
      const molarDensity = row.number('molarDensity');
      // Six figures are printed.
      expect(off(1e6 * dryAirViscosity(t, molarDensity), row.number('viscosity'))).toBeLessThan(4e-6);
      const conductivity = 1e3 * dryAirConductivity(t, molarDensity);
      expect(off(conductivity, row.number('conductivityWithoutCritical'))).toBeLessThan(1e-7);
      // At the low densities of these, what is left out does not show in the six figures.
      if (molarDensity === 0 || t === 300) {
        expect(off(conductivity, row.number('conductivity'))).toBeLessThan(5e-6);
      }
    },
  );

  test('away from 1 atm it agrees with the CoolProp library', () => {
    for (const row of table('air-pressures.csv')) {
      const state = airState(row.number('temperature'), row.number('pressure'));
      for (const name of ['density', 'specificHeat', 'viscosity'] as const) {
        expect(off(state[name], row.number(name))).toBeLessThan(1e-6);
      }
      // The library has the critical term, which this leaves out: largest at 250 K.
      expect(off(state.conductivity, row.number('conductivity'))).toBeLessThan(1.5e-4);
    }
    for (const row of table('air-line-density.csv')) {
      expect(
        off(airDensity(row.number('temperature'), row.number('pressure')), row.number('density')),
      ).toBeLessThan(1e-6);
    }
  });

  test('the fast polynomials reproduce the equations', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 246, max: 509, noNaN: true }),
        fc.double({ min: 50_000, max: 125_000, noNaN: true }),
        (t, p) => {
          const molarDensity = dryAirMolarDensity(t, p);
          const state = airState(t, p);
          expect(off(state.density, molarDensity * dryAirMolarMass)).toBeLessThan(1e-7);
          expect(off(state.specificHeat, dryAirSpecificHeat(t, molarDensity))).toBeLessThan(1e-7);
          expect(off(state.viscosity, dryAirViscosity(t, molarDensity))).toBeLessThan(1e-7);
          expect(off(state.conductivity, dryAirConductivity(t, molarDensity))).toBeLessThan(1e-7);
        },
      ),
      { seed: 20, numRuns: 300 },
    );
    fc.assert(
      fc.property(
        fc.double({ min: 246, max: 509, noNaN: true }),
        fc.double({ min: 1000, max: 1_300_000, noNaN: true }),
        (t, p) => {
          expect(off(airDensity(t, p), dryAirMolarDensity(t, p) * dryAirMolarMass)).toBeLessThan(3e-7);
        },
      ),
      { seed: 21, numRuns: 300 },
    );
  });
});

describe('handbook tables lie off the reference by what is known of them', () => {
  const names = ['density', 'specificHeat', 'viscosity', 'conductivity', 'prandtl'] as const;
  function compare(row: Row, kelvin: number) {
    const state = airState(kelvin, 101_325);
    for (const name of names) {
      const percent = 100 * (row.number(name) / state[name] - 1);
      // The offsets are given to 0.01 %.
      expect(Math.abs(percent - row.number(`${name}Off`))).toBeLessThan(0.006);
    }
  }

  test('Incropera & DeWitt, Table A.4: density 1.3 % low, for it is that at about 1 bar', () => {
    for (const row of table('air-handbook-incropera.csv')) {
      compare(row, row.number('temperature'));
      // At 1 bar the same table is within 0.05 %.
      const atBar = airState(row.number('temperature'), 1e5).density;
      expect(off(row.number('density'), atBar)).toBeLessThan(5e-4);
    }
  });

  test('Cengel, Table A-15: conductivity 2 to 3 % low, Prandtl number as much high', () => {
    for (const row of table('air-handbook-cengel.csv')) compare(row, row.number('celsius') + 273.15);
  });
});

/** CIPM-2007 (Picard, Davis, Gläser & Fujii, Metrologia 45 (2008) 149), 400 µmol/mol of carbon dioxide. */
function cipm2007(t: number, p: number, humidity: number): number {
  const c = t - 273.15;
  const saturation = Math.exp(1.2378847e-5 * t * t - 1.9121316e-2 * t + 33.93711047 - 6.3431645e3 / t);
  const enhancement = 1.00062 + 3.14e-8 * p + 5.6e-7 * c * c;
  const x = (humidity * enhancement * saturation) / p;
  const z =
    1 -
    (p / t) *
      (1.58123e-6 -
        2.9331e-8 * c +
        1.1043e-10 * c * c +
        (5.707e-6 - 2.051e-8 * c) * x +
        (1.9898e-4 - 2.376e-6 * c) * x * x) +
    (p / t) ** 2 * (1.83e-11 - 0.765e-8 * x * x);
  return ((p * 28.96546e-3) / (z * 8.314472 * t)) * (1 - x * (1 - 18.01528 / 28.96546));
}

describe('moist air', () => {
  test('density agrees with CIPM-2007 in its range, 60 to 110 kPa and 15 to 27 °C', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 288.15, max: 300.15, noNaN: true }),
        fc.double({ min: 60_000, max: 110_000, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (t, p, humidity) => {
          const density = airDensity(t, p, vapourFraction(humidity, t, p));
          // What the ideal mixture leaves out: the second virial coefficient of water, at most 1.5e-4.
          expect(off(density, cipm2007(t, p, humidity))).toBeLessThan(2e-4);
        },
      ),
      { seed: 22, numRuns: 300 },
    );
    expect(off(airDensity(293.15, 101_325), cipm2007(293.15, 101_325, 0))).toBeLessThan(2e-5);
  });

  test('the mixing rules agree with the CoolProp library as well as mixing rules do', () => {
    for (const row of table('humid-air.csv')) {
      const [t, p] = [row.number('temperature'), row.number('pressure')];
      const x = vapourFraction(row.number('relativeHumidity'), t, p);
      if (x > 0) expect(off(x, row.number('vapourFraction'))).toBeLessThan(1e-3);
      const state = airState(t, p, x);
      // Water vapour is not ideal: 6e-4 where it makes up a tenth.
      expect(off(state.density, row.number('density'))).toBeLessThan(6e-4);
      expect(off(state.viscosity, row.number('viscosity'))).toBeLessThan(0.013);
      expect(off(state.conductivity, row.number('conductivity'))).toBeLessThan(0.02);
      expect(off(state.specificHeat, row.number('specificHeat'))).toBeLessThan(4e-3);
    }
  });

  test('the rules end at the pure parts', () => {
    const dry = airState(300, 1e5);
    const nearlyDry = airState(300, 1e5, 1e-12);
    for (const name of ['density', 'specificHeat', 'viscosity', 'conductivity'] as const) {
      expect(off(nearlyDry[name], dry[name])).toBeLessThan(1e-11);
    }
  });

  test('moist air is lighter, and its specific heat larger, than dry air', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 275, max: 330, noNaN: true }),
        fc.double({ min: 0.01, max: 0.1, noNaN: true }),
        (t, x) => {
          expect(airState(t, 1e5, x).density).toBeLessThan(airState(t, 1e5).density);
          expect(airState(t, 1e5, x).specificHeat).toBeGreaterThan(airState(t, 1e5).specificHeat);
        },
      ),
      { seed: 23 },
    );
  });
});

test('outside its range air has no value', () => {
  for (const [t, p] of [
    [200, 1e5],
    [600, 1e5],
    [300, 1e4],
    [300, 2e5],
    [Number.NaN, 1e5],
    [300, Number.NaN],
  ] as const) {
    expect(airState(t, p).viscosity).toBeNaN();
    expect(airViscosity(t, p)).toBeNaN();
  }
  expect(airDensity(300, 2e6)).toBeNaN();
  expect(airDensity(300, -1)).toBeNaN();
  expect(dryAirMolarDensity(300, -1)).toBeNaN();
});
