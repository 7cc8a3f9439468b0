import { z } from 'zod';
import { emissivities, materials, ownMaterial, usualDecayConstant } from '../prediction/index.ts';
import { readReading } from './flow-reading.ts';
import { absolutePressure, linePressure } from './pressure.ts';
import {
  quantity,
  type Read,
  ratio,
  readQuantity,
  uncertain,
  uncertainRatio,
  whole,
  words,
  written,
} from './written.ts';

const anyTemperature = { low: -20, high: 225, words: '-20 degC to 225 degC' };
const roomTemperature = { low: -10, high: 55, words: 'a temperature from -10 degC to 55 degC' };
const part = { low: 0, high: 1, words: 'a part from 0 % to 100 %' };
const smallPart = { low: 0, high: 0.5, words: 'a part from 0 % to 50 %' };

/** The air of the room, which the jet expands into. */
export const room = z.strictObject({
  pressure: absolutePressure(
    'Pressure in the room, absolute: as a barometer in the room shows it, not reduced to sea level.',
    '100.8 kPa',
    {
      low: 60e3,
      high: 110e3,
      words: '60 kPa to 110 kPa, as a barometer in the room shows it, not reduced to sea level',
    },
  ),
  temperature: uncertain('temperature', 'Temperature of the room.', '21 degC', roomTemperature),
  humidity: uncertainRatio('Relative humidity of the room.', '45 %', part).prefault('50 % +- 15 %'),
});

/** The air that the jet is made of. */
export const supply = z.strictObject({
  temperature: uncertain(
    'temperature',
    'Temperature of the moving air where the body stands; expanded supply air is not room air.',
    '20.5 degC',
    anyTemperature,
  ),
  humidity: uncertainRatio(
    'Relative humidity of the moving air there; 0 for dried compressed air.',
    '0 %',
    part,
  ).prefault(0),
  pressure: linePressure('Pressure of the supply before the regulator, (g) or (a).', '6 bar(g)').optional(),
});

const reference = z
  .strictObject({
    pressure: absolutePressure('Absolute pressure that the scale is made for.', '101.325 kPa', {
      low: 5e4,
      high: 1.2e6,
      words: '50 kPa to 1.2 MPa, absolute',
    }),
    temperature: quantity('temperature', 'Temperature that the scale is made for.', '0 degC', anyTemperature),
  })
  .describe(
    'What the scale is made for, as its maker states it: 0, 15, 20 degC, 60 and 70 degF are all in use.',
  );

const line = z
  .strictObject({
    pressure: linePressure('Pressure inside the meter while the air flows: (g) or (a).', '0.35 bar(g)'),
    temperature: uncertain(
      'temperature',
      'Temperature of the air inside the meter.',
      '20 degC',
      anyTemperature,
    ),
  })
  .describe('The air inside the meter.');

const everyMeter = {
  accuracy: z
    .strictObject({
      'of-reading': ratio('Limits of error as a part of the reading.', '1 %', smallPart).prefault(0),
      'of-full-scale': ratio('Limits of error as a part of the full scale.', '2 %', smallPart).prefault(0),
    })
    .describe('Limits of error as the maker states them; taken as the ends of an even distribution.')
    .optional(),
  'full-scale': written(readReading, 'End of the scale.', '250 L/min', {
    dimension: 'flow',
    uncertain: true,
    range: 'a flow above 0',
  }).optional(),
};

/** The flow meter, by what its reading means. */
export const meter = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({
      kind: z.literal('variable-area').describe('A float in a tapered tube.'),
      reference,
      line,
      ...everyMeter,
    }),
    z.strictObject({
      kind: z.literal('thermal-mass').describe('Shows the volume at its reference conditions.'),
      reference,
      line: line.optional(),
      ...everyMeter,
    }),
    z.strictObject({
      kind: z.literal('volumetric').describe('Shows the true volume in the line.'),
      line,
      ...everyMeter,
    }),
    z.strictObject({
      kind: z.literal('mass').describe('Shows mass per time.'),
      line: line.optional(),
      ...everyMeter,
    }),
  ],
  { error: 'write kind: variable-area, thermal-mass, volumetric or mass' },
);

/** Where the jet leaves, and how far the body stands from there. */
export const nozzle = z.strictObject({
  diameter: uncertain('length', 'Bore of the nozzle at its mouth.', '20 mm', {
    low: 1e-4,
    high: 1,
    words: 'a bore from 0.1 mm to 1 m',
  }),
  'stand-off': uncertain('length', 'From the mouth of the nozzle to the middle of the body.', '40 mm', {
    low: 0,
    high: 100,
    words: 'a distance from 0 to 100 m',
  }),
  profile: uncertainRatio(
    'Speed on the axis over the mean in the mouth: 1 for a contoured nozzle, about 1.2 for a long tube.',
    '1.0',
    { low: 0.8, high: 2, words: 'a number from 0.8 to 2' },
  ).prefault(1),
  decay: uncertainRatio('Constant B of the decay beyond the core.', '6', {
    low: 1,
    high: 10,
    words: 'a number from 1 to 10',
  }).prefault(usualDecayConstant.value),
});

const listed = materials.map(({ id }) => id);
const ownWords = 'or density, specific-heat and conductivity of your own';

/** What something is made of, with the uncertainties of an own material, where written. */
export const material = z
  .union(
    [
      z.enum(listed, { error: `write one of ${listed.join(', ')}; ${ownWords}` }),
      z.strictObject({
        name: words('As it shall be printed.').optional(),
        density: uncertain('density', 'Density.', '8500 kg/m3', {
          low: 1,
          high: 30_000,
          words: '1 kg/m3 to 30000 kg/m3',
        }),
        'specific-heat': uncertain('specific-heat', 'Specific heat.', '380 J/(kg K)', {
          low: 10,
          high: 20_000,
          words: '10 J/(kg K) to 20000 J/(kg K)',
        }),
        conductivity: uncertain('conductivity', 'Thermal conductivity.', '110 W/(m K)', {
          low: 1e-3,
          high: 5000,
          words: '0.001 W/(m K) to 5000 W/(m K)',
        }),
      }),
    ],
    { error: `write one of ${listed.join(', ')}; ${ownWords}` },
  )
  .describe(`One of the listed materials, ${ownWords}.`)
  .transform((given) => {
    if (typeof given === 'string') {
      const found = materials.find(({ id }) => id === given);
      if (found !== undefined)
        return { material: found, density: null, specificHeat: null, conductivity: null };
      throw new Error(`${given} passed as a material without being listed`);
    }
    return {
      material: ownMaterial(given.name ?? 'own material', {
        density: given.density.value,
        specificHeat: given['specific-heat'].value,
        conductivity: given.conductivity.value,
      }),
      density: given.density.standardUncertainty,
      specificHeat: given['specific-heat'].standardUncertainty,
      conductivity: given.conductivity.standardUncertainty,
    };
  });

/** Name of a surface as it is written: `brass-dull`. */
export function surfaceCode(surface: string): string {
  return surface.replaceAll(/[^a-z]+/g, '-');
}

const surfaces = emissivities.map(({ surface }) => surfaceCode(surface));

/** The finish of a body's surface, which stands for an emissivity. */
export const surface = z
  .enum(surfaces, { error: `write one of ${surfaces.join(', ')}, or an emissivity` })
  .describe('Finish of the surface, for its emissivity.');

export const emissivity = uncertainRatio('Emissivity of the surface, 0 to 1.', '0.22 +- 0.07', part);

const wire = z.strictObject({
  material,
  diameter: uncertain('length', 'Diameter of the wire.', '0.25 mm', {
    low: 1e-6,
    high: 0.05,
    words: 'a diameter from 1 um to 50 mm',
  }),
  number: whole('How many such wires leave the body.', 1, 10).default(1),
  length: quantity('length', 'Length in the jet; leave out for long wires.', '40 mm', {
    low: 1e-4,
    high: 100,
    words: 'a length from 0.1 mm to 100 m',
  }).optional(),
});

/** From the junction to the logger. */
export const sensor = z.strictObject({
  thermocouple: z
    .enum(['B', 'E', 'J', 'K', 'N', 'R', 'S', 'T'], { error: 'must be one of B, E, J, K, N, R, S, T' })
    .describe(
      'Letter type of the junction: it turns a voltage into degrees, and with tolerance-class says how exact a channel in degrees is.',
    )
    .optional(),
  resistance: z
    .enum(['Pt100', 'Pt1000'], { error: 'must be Pt100 or Pt1000' })
    .describe('Resistance sensor, for channels in ohm.')
    .optional(),
  'tolerance-class': z
    .enum(['1', '2', '3', 'AA', 'A', 'B', 'C'], {
      error: 'must be "1", "2" or "3", or "AA", "A", "B" or "C", in quotes',
    })
    .describe('Tolerance class of IEC 60584-1 (1, 2, 3) or IEC 60751 (AA, A, B, C), in quotes.')
    .optional(),
  junction: words(
    'Reference junction: ice, a temperature such as 22.5 degC, or the name of the channel that recorded it.',
  ).optional(),
  'junction-uncertainty': quantity(
    'temperature-difference',
    'Standard uncertainty of the temperature of the reference junction.',
    '0.1 K',
    { low: 0, high: 20, words: '0 K to 20 K' },
  ).optional(),
  gain: z
    .number({ error: 'must be a plain number such as 200' })
    .positive({ error: 'must be more than 0' })
    .max(1e9, { error: 'must be below a thousand million' })
    .describe('Gain of the amplifier.')
    .optional(),
  'gain-uncertainty': ratio(
    'Standard uncertainty of the gain, as a part of it.',
    '0.1 %',
    smallPart,
  ).optional(),
  zero: uncertain('voltage', 'What the logger shows with the amplifier input shorted.', '1.3 mV', {
    low: -1000,
    high: 1000,
    words: '-1000 V to 1000 V',
  }).optional(),
  wires: z
    .array(wire, { error: 'write a list, each wire with material and diameter' })
    .max(10, { error: 'list at most 10 wires; use number for equal ones' })
    .describe('The wires that leave the body: they carry heat.')
    .default([]),
});

/** A step of the logger: in volts, or in kelvin where it shows degrees. */
function readResolution(text: string): Read<{ readonly unit: 'V' | 'K'; readonly step: number }> {
  const limits = { low: 1e-12, high: 1000, words: 'a step above 0' };
  const kelvin = readQuantity(text, 'temperature-difference', limits);
  if (kelvin.ok) return { ok: true, value: { unit: 'K', step: kelvin.value } };
  const volt = readQuantity(text, 'voltage', limits);
  return volt.ok ? { ok: true, value: { unit: 'V', step: volt.value } } : volt;
}

const anyVoltage = { low: -1000, high: 1000, words: '-1000 V to 1000 V' };

/** What the logger does. */
export const logger = z.strictObject({
  rate: quantity('frequency', 'Sampling rate.', '100 Hz', {
    low: 1e-4,
    high: 1e7,
    words: 'a rate up to 10 MHz',
  }),
  range: z
    .strictObject({
      from: quantity('voltage', 'Lowest voltage.', '-10 V', anyVoltage),
      to: quantity('voltage', 'Highest voltage.', '10 V', anyVoltage),
    })
    .refine(({ from, to }) => from < to, { error: 'from must be below to, as -10 V and 10 V' })
    .describe('Between which voltages the converter works.')
    .optional(),
  bits: whole('Bits of the converter over that range.', 1, 32).optional(),
  resolution: written(readResolution, 'Smallest step, where it is known by itself.', '0.3 mV', {
    dimension: 'voltage',
    uncertain: false,
    range: 'a step above 0, in volts or in kelvin',
  }).optional(),
});
