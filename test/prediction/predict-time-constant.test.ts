import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { evaluateChain, windowTimeConstant } from '../../src/prediction/chain.ts';
import { ownMaterial, type PredictionInput, predictTimeConstant } from '../../src/prediction/index.ts';
import { prepareChain } from '../../src/prediction/setup.ts';
import { brassAt, brassInJet, brassInStillAir, condition, jet, listed, thermocouple } from './rig.ts';

describe('the chain holds together', () => {
  test('the parts add up, and each follows from those before it', () => {
    const p = predictTimeConstant({ ...brassInJet, body: { ...brassInJet.body, wires: thermocouple } });
    const { convection, radiation, stem, total } = p.heatTransferCoefficient;
    expect(convection + radiation + stem).toBeCloseTo(total, 10);
    expect(p.nusselt).toBeCloseTo((convection * 0.01) / p.air.conductivity, 9);
    expect(p.reynolds).toBeCloseTo((p.air.density * p.velocity * 0.01) / p.air.viscosity, 6);
    expect(p.biot.diameter / p.biot.volumeToArea).toBeCloseTo(6, 12);
    expect(p.timeConstant / p.lumped.timeConstant - 1).toBeCloseTo(0.6 * p.biot.volumeToArea, 5);
    const area = Math.PI * 0.008 ** 2;
    if (p.nozzle === null) throw new Error('no nozzle');
    expect(p.nozzle.speed).toBeCloseTo(p.nozzle.massFlow / (p.air.density * area), 9);
  });

  test('the same mass flow through every kind of meter gives the same time constant', () => {
    const by = (meter: Partial<typeof jet.meter>) =>
      predictTimeConstant({ ...brassInJet, flow: { ...jet, meter: { ...jet.meter, ...meter } } });
    const first = by({});
    const massFlow = first.nozzle?.massFlow ?? Number.NaN;
    expect(by({ kind: 'mass', reading: massFlow }).timeConstant).toBeCloseTo(first.timeConstant, 10);
    const absolute = by({ line: { ...jet.meter.line, pressure: { absolutePressure: 150_800 } } });
    expect(absolute.timeConstant).toBeCloseTo(first.timeConstant, 10);
    // At the condition of its scale a variable-area meter, a thermal one and a true volume are one.
    const reference = condition('20C');
    const line = { pressure: { absolutePressure: reference.pressure }, temperature: reference.temperature };
    const [a, b, c] = (['variable-area', 'thermal-mass', 'volumetric'] as const).map((kind) =>
      by({ kind, line }),
    );
    expect(a?.timeConstant).toBeCloseTo(b?.timeConstant ?? 0, 10);
    expect(a?.timeConstant).toBeCloseTo(c?.timeConstant ?? 0, 10);
  });

  test('a weighed body of density times volume is the body', () => {
    const mass = (8530 * Math.PI * 0.01 ** 3) / 6;
    const weighed = predictTimeConstant({ ...brassInJet, body: { ...brassInJet.body, mass } });
    expect(weighed.timeConstant).toBeCloseTo(predictTimeConstant(brassInJet).timeConstant, 9);
  });

  test('a body of perfect conductivity is lumped', () => {
    const perfect = ownMaterial('perfect', { density: 8530, specificHeat: 380, conductivity: 5000 });
    const p = predictTimeConstant({ ...brassInJet, body: { ...brassInJet.body, material: perfect } });
    expect(Math.abs(p.timeConstant / p.lumped.timeConstant - 1)).toBeLessThan(1e-4);
  });

  test('a wire across the flow: rho c d/(4 h)', () => {
    const p = predictTimeConstant({
      ...brassAt(20),
      body: { ...brassInJet.body, shape: 'wire', diameter: 5e-4, material: listed('constantan') },
    });
    const h = p.heatTransferCoefficient.total;
    expect(p.timeConstant).toBeCloseTo((8920 * 384 * 5e-4) / (4 * h), 9);
    expect(p.correlation.forced).toBe('nusselt_cylinder_churchill_bernstein_1977');
    expect(p.biot.diameter / p.biot.volumeToArea).toBeCloseTo(4, 12);
  });

  test('beyond the core the air is slower and nearer to the room', () => {
    const far = predictTimeConstant({
      ...brassInJet,
      flow: { ...jet, temperature: 280, nozzle: { ...jet.nozzle, standOff: 12 * 0.016 } },
    });
    expect(far.velocity / (far.nozzle?.speed ?? 0)).toBeCloseTo(0.5, 12);
    expect(far.air.temperature).toBeCloseTo((280 + 294.15) / 2, 10);
  });
});

describe('trends', () => {
  const factor = fc.double({ min: 1.05, max: 2, noNaN: true });
  const base = fc.record({
    diameter: fc.double({ min: 0.003, max: 0.015, noNaN: true }),
    speed: fc.double({ min: 2, max: 40, noNaN: true }),
  });
  const at = (diameter: number, speed: number, emissivity = 0.1) =>
    predictTimeConstant({
      ...brassAt(speed),
      body: { ...brassInJet.body, diameter, emissivity },
    }).timeConstant;

  test('larger is slower, faster air is quicker, blacker is quicker', () => {
    fc.assert(
      fc.property(base, factor, ({ diameter, speed }, more) => {
        const tau = at(diameter, speed);
        expect(at(diameter * more, speed)).toBeGreaterThan(tau * more);
        expect(at(diameter * more, speed)).toBeLessThan(tau * more * more);
        expect(at(diameter, speed * more)).toBeLessThan(tau);
        expect(at(diameter, speed * more)).toBeGreaterThan(tau / more);
        expect(at(diameter, speed, 0.9)).toBeLessThan(tau);
      }),
      { seed: 40, numRuns: 50 },
    );
  });

  test('wires take heat away, thicker ones more, a short one less than a long one', () => {
    const with_ = (diameter: number, length: number | null) =>
      predictTimeConstant({
        ...brassInJet,
        body: { ...brassInJet.body, wires: [{ diameter, material: listed('copper'), length }] },
      }).timeConstant;
    const none = predictTimeConstant(brassInJet).timeConstant;
    expect(with_(2e-4, null)).toBeLessThan(none);
    expect(with_(4e-4, null)).toBeLessThan(with_(2e-4, null));
    expect(with_(4e-4, 0.002)).toBeGreaterThan(with_(4e-4, null));
  });

  test('still air: 5 to 25 W/(m² K), and a slow jet comes near it', () => {
    const still = predictTimeConstant(brassInStillAir);
    expect(still.heatTransferCoefficient.convection).toBeGreaterThan(5);
    expect(still.heatTransferCoefficient.convection).toBeLessThan(25);
    expect(still.velocity).toBe(0);
    const slow = predictTimeConstant(brassAt(1e-6));
    // One degree colder, and with the conductivity of the free stream in place of the film's.
    expect(Math.abs(slow.timeConstant / still.timeConstant - 1)).toBeLessThan(0.04);
  });
});

describe('the coefficient follows the body while it cools', () => {
  /** Time from one error fraction to another by Euler's method in 20 000 steps of the cooling itself. */
  function integrated(input: PredictionInput): number {
    const { parameters, setup } = prepareChain(input);
    const { from, to } = input.cooling.window;
    let fraction = from;
    let time = 0;
    const step = predictTimeConstant(input).timeConstant / 4000;
    const slope = (gamma: number) => -gamma / evaluateChain(parameters, setup, gamma).timeConstant;
    for (;;) {
      const middle = fraction + (step / 2) * slope(fraction);
      const next = fraction + step * slope(middle);
      if (next <= to) {
        time += (step * Math.log(fraction / to)) / Math.log(fraction / next);
        return time / Math.log(from / to);
      }
      fraction = next;
      time += step;
    }
  }

  test('one coefficient for the whole window costs under 0.1 % in a jet and 1 % in still air', () => {
    for (const [input, cost] of [
      [brassInJet, 1e-3],
      [brassInStillAir, 0.01],
    ] as const) {
      const p = predictTimeConstant(input);
      const whole = integrated(input);
      expect(Math.abs(p.window.whole / whole - 1)).toBeLessThan(1e-6);
      expect(Math.abs(p.timeConstant / whole - 1)).toBeLessThan(cost);
      const { parameters, setup } = prepareChain(input);
      expect(windowTimeConstant(parameters, setup, input.cooling.window)).toBe(p.window.whole);
    }
  });

  test('in a jet a hot body is a little slower, in still air quicker', () => {
    const inJet = predictTimeConstant(brassInJet).window;
    expect(inJet.first).toBeGreaterThan(inJet.last);
    const still = predictTimeConstant(brassInStillAir).window;
    expect(still.first).toBeLessThan(still.last);
  });
});

describe('moisture and weather', () => {
  test('wet air changes the time constant by less than a percent at room temperature', () => {
    const at = (relativeHumidity: number) =>
      predictTimeConstant({
        ...brassInJet,
        flow: { kind: 'speed', speed: 20, temperature: 293.15, relativeHumidity },
      }).timeConstant;
    expect(Math.abs(at(1) / at(0) - 1)).toBeLessThan(0.01);
    expect(at(1)).not.toBe(at(0));
  });

  test('thin air of a high place is slower at the same speed', () => {
    const at = (pressure: number) =>
      predictTimeConstant({ ...brassAt(20), room: { ...brassInJet.room, pressure } }).timeConstant;
    // tau goes about as U^-0.55, and so as density^-0.55.
    expect(at(80_000) / at(100_000)).toBeCloseTo(0.8 ** -0.55, 2);
  });
});
