import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Body,
  ownMaterial,
  type PredictionInput,
  PredictionInputError,
  predictTimeConstant,
} from '../../src/prediction/index.ts';
import { brassAt, brassInJet, jet, listed } from './rig.ts';

type Meter = typeof jet.meter;
type Nozzle = typeof jet.nozzle;
const withMeter = (meter: Partial<Meter>): PredictionInput => ({
  ...brassInJet,
  flow: { ...jet, meter: { ...jet.meter, ...meter } },
});
const withNozzle = (nozzle: Partial<Nozzle>): PredictionInput => ({
  ...brassInJet,
  flow: { ...jet, nozzle: { ...jet.nozzle, ...nozzle } },
});
const withBody = (body: Partial<Body>): PredictionInput => ({
  ...brassInJet,
  body: { ...brassInJet.body, ...body },
});
const withRoom = (room: Partial<PredictionInput['room']>): PredictionInput => ({
  ...brassInJet,
  room: { ...brassInJet.room, ...room },
});
const cooling = (start: number, from = 0.9, to = 0.1): PredictionInput => ({
  ...brassInJet,
  cooling: { start, window: { from, to } },
});
const wire = { diameter: 3e-4, material: listed('copper'), length: null };
const bad = (state: { density: number; specificHeat: number; conductivity: number }) =>
  withBody({ material: ownMaterial('own', state) });

const refused: readonly (readonly [field: string, words: RegExp, input: PredictionInput])[] = [
  ['room.pressure', /1\.013; .*60000 and 110000 Pa .*absolute/, withRoom({ pressure: 1.013 })],
  ['room.pressure', /is 0; /, withRoom({ pressure: 0 })],
  ['room.temperature', /is 21; .* K .*temperatures are in K/, withRoom({ temperature: 21 })],
  ['room.relativeHumidity', /is 45; .*between 0 and 1/, withRoom({ relativeHumidity: 45 })],
  ['flow.temperature', /NaN/, { ...brassInJet, flow: { ...jet, temperature: Number.NaN } }],
  ['flow.relativeHumidity', /-0\.1/, { ...brassInJet, flow: { ...jet, relativeHumidity: -0.1 } }],
  ['flow.speed', /is 5000; .*300 m\/s/, brassAt(5000)],
  ['flow.meter.reading', /is 120; .*10 m³\/s \(per second\)/, withMeter({ reading: 120 })],
  ['flow.meter.reading', /kg\/s/, withMeter({ kind: 'mass', reading: -1 })],
  ['flow.meter.reference.pressure', /is 0; /, withMeter({ reference: { pressure: 0, temperature: 293 } })],
  [
    'flow.meter.reference.temperature',
    /is 20; /,
    withMeter({ reference: { pressure: 1e5, temperature: 20 } }),
  ],
  [
    'flow.meter.line.pressure',
    /is 0; .*gaugePressure/,
    withMeter({ line: { pressure: { absolutePressure: 0 }, temperature: 294 } }),
  ],
  [
    'flow.meter.line.temperature',
    /is 21; /,
    withMeter({ line: { pressure: { gaugePressure: 5e4 }, temperature: 21 } }),
  ],
  ['flow.nozzle.diameter', /is 16; .*1 m/, withNozzle({ diameter: 16 })],
  ['flow.nozzle.standOff', /is -1; /, withNozzle({ standOff: -1 })],
  ['flow.nozzle.profileFactor', /is 0; /, withNozzle({ profileFactor: 0 })],
  ['flow.nozzle.decayConstant', /is 0; /, withNozzle({ decayConstant: 0 })],
  ['body.diameter', /is 12; .*0\.5 m/, withBody({ diameter: 12 })],
  ['body.diameter', /Infinity/, withBody({ diameter: Number.POSITIVE_INFINITY })],
  ['body.emissivity', /is 2; /, withBody({ emissivity: 2 })],
  ['body.mass', /is -1; /, withBody({ mass: -1 })],
  ['body.mass', /spheres only/, withBody({ mass: 1, shape: 'wire' })],
  ['body.material.density', /is 0; /, bad({ density: 0, specificHeat: 400, conductivity: 100 })],
  ['body.material.specificHeat', /is 0\.38; /, bad({ density: 8500, specificHeat: 0.38, conductivity: 100 })],
  ['body.material.conductivity', /is 0; /, bad({ density: 8500, specificHeat: 400, conductivity: 0 })],
  ['body.material.points', /empty/, withBody({ material: { ...listed('brass'), points: [] } })],
  ['body.wires[0].diameter', /is 1; /, withBody({ wires: [{ ...wire, diameter: 1 }] })],
  ['body.wires[1].length', /is 0; /, withBody({ wires: [wire, { ...wire, length: 0 }] })],
  ['body.wires', /more than 20/, withBody({ wires: Array.from({ length: 21 }, () => wire) })],
  ['cooling.start', /is 100; /, cooling(100)],
  ['cooling.start', /within 1 K of the air/, cooling(293.5)],
  ['cooling.window.from', /is 1\.5; /, cooling(373, 1.5)],
  ['cooling.window.to', /is 0; /, cooling(373, 0.9, 0)],
  ['cooling.window.to', /below cooling\.window\.from/, cooling(373, 0.1, 0.9)],
  ['correlation', /nonsense is not in the table/, { ...brassInJet, correlation: 'nonsense' }],
  [
    'correlation',
    /not for forced convection from a sphere/,
    { ...brassInJet, correlation: 'nusselt_cylinder_churchill_bernstein_1977' },
  ],
  [
    'correlation',
    /has no value at a Reynolds number of/,
    { ...withBody({ diameter: 0.2 }), flow: brassAt(22).flow, correlation: 'nusselt_sphere_achenbach_1978' },
  ],
];

describe('what no physics can be done with is refused by name', () => {
  test.each(refused)('%s: %s', (field, words, input) => {
    let caught: unknown = null;
    try {
      predictTimeConstant(input);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(PredictionInputError);
    if (!(caught instanceof PredictionInputError)) return;
    expect(caught.field).toBe(field);
    expect(caught.message).toMatch(words);
    expect(caught.message.startsWith(field)).toBe(true);
  });
});

test('any number anywhere gives a finite prediction or an error that names the input', () => {
  const wild = fc.oneof(fc.double(), fc.constantFrom(0, -1, 1e-300, 1e300, 20, 300, 1e5));
  fc.assert(
    fc.property(fc.array(wild, { minLength: 9, maxLength: 9 }), fc.nat(511), (numbers, which) => {
      const pick = (i: number, usual: number) => (which & (1 << i) ? (numbers[i] ?? usual) : usual);
      const input: PredictionInput = {
        ...brassInJet,
        room: { pressure: pick(0, 1e5), temperature: pick(1, 294), relativeHumidity: pick(2, 0.4) },
        flow: {
          ...jet,
          temperature: pick(3, 293),
          meter: { ...jet.meter, reading: pick(4, 0.003) },
          nozzle: { ...jet.nozzle, diameter: pick(5, 0.016) },
        },
        body: { ...brassInJet.body, diameter: pick(6, 0.01), emissivity: pick(7, 0.1) },
        cooling: { start: pick(8, 373), window: { from: 0.9, to: 0.1 } },
      };
      try {
        expect(predictTimeConstant(input).timeConstant).toBeGreaterThan(0);
      } catch (error) {
        expect(error).toBeInstanceOf(PredictionInputError);
      }
    }),
    { seed: 41, numRuns: 500 },
  );
});
