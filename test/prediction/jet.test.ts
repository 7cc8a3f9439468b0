import fc from 'fast-check';
import { expect, test } from 'vitest';
import { coreWidth, jetDecay, nozzleVelocity, speedOfSound } from '../../src/prediction/jet.ts';
import { table } from '../reference/tables.ts';

test('three decay laws as computed apart from this', () => {
  for (const row of table('jet-decay.csv')) {
    const x = row.number('standOff');
    expect(jetDecay(x, 5.8, 4)).toBeCloseTo(row.number('b58x4'), 8);
    expect(jetDecay(x, 6.06)).toBeCloseTo(row.number('b606x0'), 8);
    expect(jetDecay(x, 6)).toBeCloseTo(row.number('b6x0'), 8);
  }
});

test('the speed never grows with distance and is whole in the core', () => {
  const distance = fc.double({ min: 0, max: 40, noNaN: true });
  fc.assert(
    fc.property(distance, distance, fc.double({ min: 1, max: 8, noNaN: true }), (a, b, constant) => {
      const [near, far] = a < b ? [a, b] : [b, a];
      expect(jetDecay(near, constant)).toBeGreaterThanOrEqual(jetDecay(far, constant));
      expect(jetDecay(near, constant)).toBeLessThanOrEqual(1);
      if (far <= constant) expect(jetDecay(far, constant)).toBe(1);
    }),
    { seed: 30 },
  );
});

test('the speed in the nozzle is the volume over the area', () => {
  // 1 L/s of air of 1.2 kg/m³ through 10 mm: 1e-3/(pi 25e-6) m/s.
  expect(nozzleVelocity(1.2e-3, 1.2, 0.01)).toBeCloseTo(12.732_395, 6);
});

test('the core is as wide as the nozzle at its mouth and gone where the decay begins', () => {
  expect(coreWidth(0.02, 0, 6)).toBe(0.02);
  expect(coreWidth(0.02, 3, 6)).toBe(0.01);
  expect(coreWidth(0.02, 9, 6)).toBe(0);
});

test('sound in air at 15 °C: 340.29 m/s (US Standard Atmosphere 1976, sea level)', () => {
  expect(speedOfSound(288.15)).toBeCloseTo(340.294, 2);
});
