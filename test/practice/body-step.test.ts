import { describe, expect, test } from 'vitest';
import type { SimulatedBody, SimulatedStem } from '../../src/practice/bench-types.ts';
import { bodyChain, stefanBoltzmann } from '../../src/practice/body-chain.ts';
import { createStepper } from '../../src/practice/body-step.ts';
import { plainBenchTrial, wire } from './body-trial.ts';

const conductive: SimulatedBody = { ...plainBenchTrial().body, emissivity: 1, conductivity: 1e4 };
const room = 20;
const oven = 500;

/** A body that radiation alone keeps hot and stems alone keep cool, in its steady state. */
function heldHot(stems: readonly SimulatedStem[], stemFactor = 1) {
  const range = {
    largest: 100,
    smallestFactor: Math.min(1, stemFactor),
    largestFactor: Math.max(1, stemFactor),
  };
  const chain = bodyChain({ ...conductive, stems }, range);
  const temperatures = createStepper(chain, oven).steady({ air: room, coefficient: 0, stemFactor });
  const surface = temperatures?.at(-1) ?? Number.NaN;
  const received = chain.area * stefanBoltzmann * ((oven + 273.15) ** 4 - (surface + 273.15) ** 4);
  return { chain, temperatures: temperatures ?? new Float64Array(), excess: surface - room, received };
}

/** Heat over base excess of a fin with adiabatic tip: √(h P k A) tanh(m L) (Incropera et al., 6th ed., Table 3.4 B). */
function finConductance(stem: SimulatedStem, factor = 1): number {
  const perimeter = Math.PI * stem.diameter;
  const section = (Math.PI * stem.diameter ** 2) / 4;
  const h = stem.coefficient * factor;
  const m = Math.sqrt((h * perimeter) / (stem.conductivity * section));
  return Math.sqrt(h * perimeter * stem.conductivity * section) * Math.tanh(m * stem.length);
}

describe('a stem in a steady state', () => {
  test('carries the heat of a fin with adiabatic tip, at any length', () => {
    for (const length of [0.002, 0.01, 0.03, 0.05, 0.5]) {
      const stem = { ...wire, length };
      const { excess, received } = heldHot([stem]);
      // The scheme is exact for a steady fin; a long one is cut where tanh is within 4e-8 of 1.
      expect(Math.abs(received / excess / finConductance(stem) - 1)).toBeLessThan(1e-7);
    }
  });

  test('has the tip temperature 1/cosh(m L) (same table)', () => {
    for (const length of [0.002, 0.01, 0.03]) {
      const stem = { ...wire, length };
      const { chain, temperatures, excess } = heldHot([stem]);
      const m = Math.sqrt((4 * stem.coefficient) / (stem.conductivity * stem.diameter));
      const tip = chain.parent.indexOf(chain.count - 1) + 1;
      expect(((temperatures[tip] ?? Number.NaN) - room) / excess).toBeCloseTo(1 / Math.cosh(m * length), 9);
    }
  });

  test('adds up with other stems', () => {
    const stems = [wire, { ...wire, diameter: 1e-3, length: 0.01 }, { ...wire, conductivity: 400 }];
    const { excess, received } = heldHot(stems);
    const expected = stems.reduce((sum, stem) => sum + finConductance(stem), 0);
    expect(Math.abs(received / excess / expected - 1)).toBeLessThan(1e-7);
  });

  test('is right to 0.5 % under coefficients it was not cut for', () => {
    for (const factor of [0.5, 1.5]) {
      const { excess, received } = heldHot([wire], factor);
      expect(Math.abs(received / excess / finConductance(wire, factor) - 1)).toBeLessThan(5e-3);
    }
  });
});

describe('a sphere in drifting air', () => {
  test('lags by C/(h A) at its surface and r²/(6 a) more in its middle', () => {
    // Quasi-steady sphere with a uniform rate of change: Carslaw & Jaeger, 2nd ed. 1959, 9.4 (a parabola in r).
    const body = { ...plainBenchTrial().body, conductivity: 2 };
    const h = 150;
    const chain = bodyChain(body, { largest: h, smallestFactor: 1, largestFactor: 1 });
    const lags = createStepper(chain, room).lags({ air: room, coefficient: h, stemFactor: 1 }, room);
    const surface = (body.density * body.specificHeat * body.diameter) / 6 / h;
    const inside = (body.diameter / 2) ** 2 / 6 / (body.conductivity / body.density / body.specificHeat);
    expect((lags?.at(-1) ?? 0) / surface).toBeCloseTo(1, 10);
    expect(((lags?.[0] ?? 0) - surface) / inside).toBeCloseTo(1, 2);
  });

  test('with stems gives up in all what it holds: losses times lags are the heat capacity', () => {
    const chain = bodyChain(
      { ...conductive, stems: [wire, wire] },
      { largest: 100, smallestFactor: 1, largestFactor: 1 },
    );
    const coefficient = 80;
    const at = { air: room, coefficient, stemFactor: 1 };
    const lags = createStepper({ ...chain, emissivity: 0 }, room).lags(at, room) ?? new Float64Array();
    const given = lags.reduce((sum, lag, i) => sum + lag * (chain.stemLoss[i] ?? 0), 0);
    const all = given + chain.area * coefficient * (lags.at(-1) ?? 0);
    expect(all / chain.capacity.reduce((sum, c) => sum + c, 0)).toBeCloseTo(1, 10);
  });

  test('has no steady state without losses', () => {
    const chain = bodyChain(
      { ...conductive, emissivity: 0 },
      { largest: 0, smallestFactor: 1, largestFactor: 1 },
    );
    const stepper = createStepper(chain, room);
    expect(stepper.steady({ air: room, coefficient: 0, stemFactor: 1 })).toBeNull();
    expect(stepper.lags({ air: room, coefficient: 0, stemFactor: 1 }, room)).toBeNull();
  });
});

test('a chain holds the heat of the sphere', () => {
  const { body } = plainBenchTrial();
  const chain = bodyChain(body, { largest: 3000, smallestFactor: 1, largestFactor: 1 });
  const heat = (body.density * body.specificHeat * Math.PI * body.diameter ** 3) / 6;
  expect(chain.capacity.reduce((sum, c) => sum + c, 0) / heat).toBeCloseTo(1, 12);
  expect(chain.area).toBeCloseTo(Math.PI * body.diameter ** 2, 15);
});
