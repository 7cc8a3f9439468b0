import { expect, test } from 'vitest';
import { airDensity } from '../../src/prediction/air.ts';
import {
  findReferenceCondition,
  idealAirDensity,
  meterMassFlow,
  referenceConditions,
  toAbsolutePressure,
  variableAreaMassFlow,
} from '../../src/prediction/meter.ts';
import { table } from '../reference/tables.ts';

const litrePerMinute = 1e-3 / 60;

test('variable-area meters: mass flow as computed apart from this', () => {
  const named: Readonly<Record<string, string>> = {
    'US_std_14.696psia_60F': '60F',
    'normal_0C_101.325kPa': '0C',
    '20C_101.325kPa': '20C',
    '21.11C_70F_14.696psia': '70F',
  };
  const rows = table('variable-area-meter.csv');
  expect(rows).toHaveLength(20);
  for (const row of rows) {
    const id = named[row.text('reference')];
    const reference = id === undefined ? undefined : findReferenceCondition(id);
    if (reference === undefined) throw new Error(`no condition ${row.text('reference')}`);
    const calibration = idealAirDensity(reference.temperature, reference.pressure);
    const line = idealAirDensity(row.number('temperature'), row.number('pressure'));
    const indicated = row.number('indicated') * litrePerMinute;
    const massFlow = variableAreaMassFlow(indicated, calibration, line);
    expect(Math.abs(massFlow / row.number('massFlow') - 1)).toBeLessThan(1e-7);
    const actual = massFlow / line / litrePerMinute;
    expect(Math.abs(actual / row.number('actual') - 1)).toBeLessThan(1e-7);
    // As a real gas the same meter passes at most 0.06 % more.
    const real = meterMassFlow(
      'variable-area',
      indicated,
      airDensity(reference.temperature, reference.pressure),
      row.number('pressure'),
      row.number('temperature'),
    );
    expect(real / massFlow).toBeGreaterThan(1);
    expect(real / massFlow).toBeLessThan(1.0008);
  }
});

test('the named reference conditions have the published densities', () => {
  const expected = table('air-conventions.csv');
  for (const condition of referenceConditions) {
    const row = expected.find(
      (one) =>
        Math.abs(one.number('temperature') - condition.temperature) < 1e-6 &&
        Math.abs(one.number('pressure') - condition.pressure) < 1,
    );
    if (row === undefined) throw new Error(`no published density for ${condition.name}`);
    const { temperature, pressure } = condition;
    expect(Math.abs(airDensity(temperature, pressure) / row.number('density') - 1)).toBeLessThan(4e-6);
    expect(Math.abs(idealAirDensity(temperature, pressure) / row.number('ideal') - 1)).toBeLessThan(4e-6);
  }
});

test('14.696 psia is 101 325.35 Pa (NIST SP 811)', () => {
  expect(findReferenceCondition('60F')?.pressure).toBeCloseTo(101_325.353, 2);
  expect(findReferenceCondition('60F')?.temperature).toBeCloseTo(288.705_556, 6);
});

test('a standard volume means up to 8 % more or less with the convention', () => {
  const densities = ['0C', '70F'].map((id) => {
    const condition = findReferenceCondition(id);
    return condition === undefined ? Number.NaN : airDensity(condition.temperature, condition.pressure);
  });
  expect((densities[0] ?? 0) / (densities[1] ?? 0)).toBeCloseTo(1.0775, 3);
});

test('each kind of meter means something else by the same reading', () => {
  const reference = airDensity(273.15, 101_325);
  const at = (kind: 'variable-area' | 'thermal-mass' | 'volumetric' | 'mass') =>
    meterMassFlow(kind, 1e-3, reference, 301_325, 293.15);
  expect(at('thermal-mass')).toBe(1e-3 * reference);
  expect(at('volumetric')).toBe(1e-3 * airDensity(293.15, 301_325));
  expect(at('variable-area')).toBeCloseTo(Math.sqrt(at('thermal-mass') * at('volumetric')), 12);
  expect(at('mass')).toBe(1e-3);
});

test('gauge and absolute pressures are told apart', () => {
  expect(toAbsolutePressure({ gaugePressure: 50_000 }, 99_000)).toBe(149_000);
  expect(toAbsolutePressure({ absolutePressure: 50_000 }, 99_000)).toBe(50_000);
});
