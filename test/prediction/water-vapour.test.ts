import { expect, test } from 'vitest';
import {
  enhancementFactor,
  saturationPressure,
  waterVapourConductivity,
  waterVapourSpecificHeat,
  waterVapourViscosity,
} from '../../src/prediction/water-vapour.ts';
import { table } from '../reference/tables.ts';

test.each([
  // IAPWS-IF97 (2007), Table 35: saturation pressure, MPa, from memory.
  [300, 0.353_658_941e-2],
  [500, 0.263_889_776e1],
])('check value of the saturation pressure at %d K', (t, megapascal) => {
  expect(Math.abs(saturationPressure(t) / (1e6 * megapascal) - 1)).toBeLessThan(2e-9);
});

test('water boils at 99.974 °C under 1 atm (IAPWS, from memory)', () => {
  expect(Math.abs(saturationPressure(273.15 + 99.974) - 101_325)).toBeLessThan(5);
});

test('the saturation pressure of CIPM-2007 agrees in its range', () => {
  for (const celsius of [15, 20, 25, 27]) {
    const t = celsius + 273.15;
    const cipm = Math.exp(1.2378847e-5 * t * t - 1.9121316e-2 * t + 33.93711047 - 6.3431645e3 / t);
    expect(Math.abs(saturationPressure(t) / cipm - 1)).toBeLessThan(5e-4);
  }
});

test('transport and specific heat agree with the CoolProp library', () => {
  for (const row of table('water-vapour.csv')) {
    const t = row.number('temperature');
    // Nine figures are given; the library holds a vanishing density, not none.
    expect(Math.abs(waterVapourViscosity(t) / row.number('viscosity') - 1)).toBeLessThan(1e-6);
    expect(Math.abs(waterVapourConductivity(t) / row.number('conductivity') - 1)).toBeLessThan(1e-6);
    expect(Math.abs(waterVapourSpecificHeat(t) / row.number('specificHeat') - 1)).toBeLessThan(1e-5);
  }
});

test('the enhancement factor is 1.004 at room conditions (Picard et al. 2008)', () => {
  expect(enhancementFactor(293.15, 101_325)).toBeCloseTo(1.00403, 5);
});

test('outside its range there is no saturation pressure', () => {
  for (const t of [Number.NaN, 0, 700, Number.POSITIVE_INFINITY]) expect(saturationPressure(t)).toBeNaN();
});
