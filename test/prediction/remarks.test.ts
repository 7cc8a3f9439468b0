import { describe, expect, test } from 'vitest';
import { ownMaterial, type PredictionInput, predictTimeConstant } from '../../src/prediction/index.ts';
import { type RemarkCode, remarkCatalogue } from '../../src/remark/index.ts';
import { brassAt, brassInJet, brassInStillAir, jet, listed, thermocouple } from './rig.ts';

const codes = (input: PredictionInput) => predictTimeConstant(input).remarks.map((one) => one.code);
const body = (changes: Partial<PredictionInput['body']>, input: PredictionInput = brassAt(20)) => ({
  ...input,
  body: { ...input.body, ...changes },
});
const nozzle = (changes: Partial<typeof jet.nozzle>): PredictionInput => ({
  ...brassInJet,
  flow: { ...jet, nozzle: { ...jet.nozzle, ...changes } },
});
const poor = ownMaterial('plastic', { density: 1200, specificHeat: 1400, conductivity: 0.2 });

const cases: readonly (readonly [RemarkCode, RegExp, PredictionInput])[] = [
  ['biot-not-small', /The Biot number h\(V\/A\)\/k is .*, above 0\.1/, body({ material: poor })],
  ['coefficient-varies', /goes from .* s to .* s/, brassInStillAir],
  ['convection-mixed', /Gr\/Re² is/, brassAt(0.1)],
  ['jet-decayed', /12 nozzle diameters .*fallen to 50 %/, nozzle({ standOff: 12 * 0.016 })],
  ['jet-fast', /times the speed of sound/, nozzle({ diameter: 0.005 })],
  [
    'jet-narrow',
    /12 mm wide, wider than the nozzle of 10 mm/,
    body({ diameter: 0.012 }, nozzle({ diameter: 0.01 })),
  ],
  ['jet-narrow', /undisturbed core of the jet/, nozzle({ standOff: 4 * 0.016 })],
  [
    'mass-disagrees',
    /The mass is 10 % below density times volume/,
    body({ mass: 0.9 * 8530 * (Math.PI / 6) * 1e-6 }),
  ],
  ['meter-conditions', /mass flow is 21\.8 % above what the scale says/, brassInJet],
  ['reynolds-out-of-range', /data behind Whitaker.* cover 3\.5 to 76000/, body({ diameter: 0.1 })],
  ['source-unconfirmed', /AISI 304/, body({ material: listed('steel-304') })],
  ['source-unconfirmed', /Achenbach/, { ...brassAt(20), correlation: 'nusselt_sphere_achenbach_1978' }],
  ['speed-implausible', /m\/s/, brassAt(200)],
  ['stem-large', /The wires carry \d\d % of the heat/, body({ diameter: 0.003, wires: thermocouple })],
  ['viscosity-ratio-outside', /ratio is 0\.9\d\d, as it is for every body hotter than a gas/, brassAt(20)],
];

describe('what is unusual is said with its number', () => {
  test.each(cases)('%s %s', (code, words, input) => {
    const found = predictTimeConstant(input).remarks.filter((one) => one.code === code);
    expect(found.map((one) => one.message).join(' ')).toMatch(words);
    for (const remark of predictTimeConstant(input).remarks) {
      expect(remarkCatalogue[remark.code].severities).toContain(remark.severity);
      expect(remark.message).toMatch(/^[A-Z].*\.$/);
      expect(remark.action).toMatch(/^[A-Z].*\.$/);
      expect(remark.message).not.toMatch(/NaN|undefined|Infinity/);
    }
  });
});

test('a plain case has only the remark on the viscosity ratio', () => {
  expect(codes(brassAt(20))).toEqual(['viscosity-ratio-outside']);
});

test('a jet that is slow and far has no sure decay', () => {
  const slow = {
    ...brassInJet,
    flow: {
      ...jet,
      meter: { ...jet.meter, reading: 20e-3 / 60 },
      nozzle: { ...jet.nozzle, standOff: 0.2 },
    },
  };
  const decayed = predictTimeConstant(slow).remarks.find((one) => one.code === 'jet-decayed');
  expect(decayed?.severity).toBe('caution');
  expect(decayed?.message).toContain('not sure at a jet Reynolds number');
});

test('in still air nothing is said of a correlation that is not used', () => {
  expect(codes(brassInStillAir)).not.toContain('reynolds-out-of-range');
  expect(codes(brassInStillAir)).not.toContain('viscosity-ratio-outside');
});
