import { expect, test } from 'vitest';
import { jointRate } from '../../src/prediction/chain.ts';
import { finConductance, radiationCoefficient, wireTimeConstant } from '../../src/prediction/losses.ts';

const rod = { diameter: 0.005, conductivity: 398, volumetricHeat: 3.45e6, length: null };

test('a long rod: Incropera et al., Example 3.9 (printed 8.3 W for copper, 5.6 W for aluminium, 1.6 W for steel; from memory)', () => {
  // 5 mm rod from 100 °C into air at 25 °C, h 100 W/(m² K); conductivities 398, 180 and 14 W/(m K).
  const heat = (conductivity: number) => 75 * finConductance({ ...rod, conductivity }, 100);
  expect(heat(398)).toBeCloseTo(8.3, 1);
  expect(heat(180)).toBeCloseTo(5.6, 1);
  expect(heat(14)).toBeCloseTo(1.6, 1);
});

test('an adiabatic tip: nothing for no length, all of it for a long rod (tanh 2.65 = 0.99)', () => {
  const long = finConductance(rod, 100);
  const m = Math.sqrt((4 * 100) / (398 * 0.005));
  expect(finConductance({ ...rod, length: 2.65 / m }, 100) / long).toBeCloseTo(0.99, 3);
  // A short rod is as warm as the body all over: h times its side.
  expect(finConductance({ ...rod, length: 1e-4 }, 100)).toBeCloseTo(100 * Math.PI * 0.005 * 1e-4, 9);
});

test('radiation: Incropera et al., Example 1.2, h_r 11 W/(m² K) from 200 °C to 25 °C at 0.8 (from memory)', () => {
  expect(radiationCoefficient(0.8, 473, 298)).toBeCloseTo(10.9, 1);
  // Between equal temperatures it is 4 eps sigma T³.
  expect(radiationCoefficient(1, 300, 300)).toBeCloseTo(4 * 5.670374419e-8 * 300 ** 3, 12);
});

test('time constant of a wire: rho c d/(4 h)', () => {
  expect(wireTimeConstant(rod, 100)).toBeCloseTo((3.45e6 * 0.005) / 400, 12);
});

test('body and wire cool together at a rate that satisfies r = bare + stem √(1 - r tau)', () => {
  for (const [bare, stem, slowness] of [
    [0.02, 0.002, 3],
    [0.5, 0.4, 0.9],
    [1, 5, 0.01],
  ] as const) {
    const rate = jointRate(bare, stem, slowness);
    expect(rate).toBeCloseTo(bare + stem * Math.sqrt(1 - rate * slowness), 12);
    expect(rate).toBeGreaterThan(bare);
  }
  // A wire without heat of its own is the steady fin; one slower than the body gives it nothing.
  expect(jointRate(0.02, 0.002, 0)).toBeCloseTo(0.022, 15);
  expect(jointRate(0.5, 0.4, 2)).toBe(0.5);
});

test('a fin solved in time agrees with the joint rate', () => {
  // Finite volumes along a wire on a lumped body, explicit in time: an account that shares nothing with the formula.
  const wire = { diameter: 1e-3, conductivity: 100, volumetricHeat: 3.5e6, length: null };
  const h = 200;
  const capacity = 0.9;
  const bare = 0.05;
  const cells = 100;
  const width = 1e-3;
  const area = (Math.PI / 4) * wire.diameter ** 2;
  const side = Math.PI * wire.diameter * width;
  const store = wire.volumetricHeat * area * width;
  const bridge = (wire.conductivity * area) / width;
  const step = 0.008;
  let body = 1;
  const theta = new Float64Array(cells).fill(1);
  const at = (time: number) => {
    for (let n = 0; n < time / step; n += 1) {
      let inflow = 2 * bridge * (body - (theta[0] ?? 0));
      body -= step * (bare * body + inflow / capacity);
      for (let i = 0; i < cells; i += 1) {
        const own = theta[i] ?? 0;
        const outflow = i === cells - 1 ? 0 : bridge * (own - (theta[i + 1] ?? 0));
        theta[i] = own + (step * (inflow - outflow - h * side * own)) / store;
        inflow = outflow;
      }
    }
    return body;
  };
  const early = at(40);
  const late = at(20);
  const rate = Math.log(early / late) / 20;
  const expected = jointRate(bare, finConductance(wire, h) / capacity, wireTimeConstant(wire, h));
  expect(Math.abs(rate / expected - 1)).toBeLessThan(2e-3);
});
