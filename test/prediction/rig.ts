import {
  findMaterial,
  findReferenceCondition,
  type Material,
  type MeteredJet,
  type PredictionInput,
} from '../../src/prediction/index.ts';

export function listed(id: string): Material {
  const material = findMaterial(id);
  if (material === undefined) throw new Error(`no material ${id}`);
  return material;
}

export function condition(id: string): { pressure: number; temperature: number } {
  const found = findReferenceCondition(id);
  if (found === undefined) throw new Error(`no condition ${id}`);
  return { pressure: found.pressure, temperature: found.temperature };
}

/** A jet of about 20 m/s from 16 mm, behind a variable-area meter under pressure. */
export const jet: MeteredJet = {
  kind: 'jet',
  temperature: 293.15,
  relativeHumidity: 0,
  meter: {
    kind: 'variable-area',
    reading: 200e-3 / 60,
    reference: condition('20C'),
    line: { pressure: { gaugePressure: 50_000 }, temperature: 294.15 },
  },
  nozzle: { diameter: 0.016, standOff: 0.02, profileFactor: 1, decayConstant: 6 },
};

/** A brass sphere of 10 mm of the Thornwick course in that jet, without wires. */
export const brassInJet: PredictionInput = {
  room: { pressure: 100_800, temperature: 294.15, relativeHumidity: 0.45 },
  flow: jet,
  body: {
    shape: 'sphere',
    diameter: 0.01,
    material: listed('brass'),
    mass: null,
    emissivity: 0.1,
    wires: [],
  },
  cooling: { start: 373.15, window: { from: 0.9, to: 0.1 } },
  correlation: null,
};

export const thermocouple = [
  { diameter: 3e-4, material: listed('copper'), length: null },
  { diameter: 3e-4, material: listed('constantan'), length: null },
];

/** The same body where nothing blows. */
export const brassInStillAir: PredictionInput = { ...brassInJet, flow: { kind: 'still' } };

/** The same body in air of a known speed, m/s. */
export function brassAt(speed: number): PredictionInput {
  return { ...brassInJet, flow: { kind: 'speed', speed, temperature: 293.15, relativeHumidity: 0 } };
}
