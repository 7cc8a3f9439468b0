import { z } from 'zod';
import { type Dimension, parseQuantity } from '../quantity/index.ts';

/** A quantity as people write it, with its unit; comes out in SI, temperatures in °C. */
function quantity(dimension: Dimension, description: string) {
  return z
    .union([z.string(), z.number()], { error: 'write a number and a unit' })
    .transform((written, context) => {
      const parsed = parseQuantity(String(written), dimension);
      if (parsed.ok) return parsed.value;
      context.addIssue({ code: 'custom', message: `${parsed.problem} ${parsed.mend}` });
      return z.NEVER;
    })
    .describe(description);
}

const fraction = z
  .number({ error: 'write a plain number between 0 and 1' })
  .gt(0, { error: 'must be more than 0' })
  .lt(1, { error: 'must be less than 1' });

const sensor = z.strictObject({
  thermocouple: z
    .enum(['B', 'E', 'J', 'K', 'N', 'R', 'S', 'T'], { error: 'must be one of B, E, J, K, N, R, S, T' })
    .describe('Letter type of the junction, for channels that hold a voltage.')
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
  junction: z
    .string()
    .describe(
      'Reference junction: ice, a temperature such as 22.5 degC, or the name of the channel that recorded it.',
    )
    .optional(),
  gain: z.number().positive({ error: 'must be more than 0' }).describe('Gain of the amplifier.').optional(),
  zero: quantity('voltage', 'What the logger shows with the amplifier input shorted.').optional(),
});

const protocol = z.strictObject({
  baseline: quantity('time', 'Shortest stretch before the heating.').default(15),
  target: quantity('temperature', 'Temperature that the heating should reach.').optional(),
  limit: quantity('temperature', 'Temperature that no body may pass.').optional(),
  'end-fraction': fraction.describe('Error fraction that the cooling should reach.').default(0.1),
  window: z
    .strictObject({ from: fraction, to: fraction })
    .refine((window) => window.from > window.to, { error: 'from must be larger than to, as 0.9 and 0.1' })
    .describe('Error fractions between which the classroom fits are made.')
    .default({ from: 0.9, to: 0.1 }),
  'ambient-offset': quantity(
    'temperature-difference',
    'Standard uncertainty of the ambient in the jet against the baseline: 0.3 K, or 0.1 K when the sensor is held in the running jet before heating.',
  ).default(0.3),
  drift: quantity('temperature-rate', 'Standard uncertainty of the drift of the zero.').default(0.5 / 600),
});

const body = z.strictObject({
  limit: quantity(
    'temperature',
    'Temperature that this body, or the adhesive in it, may not pass.',
  ).optional(),
});

/** What stands in an `experiment.yaml`. */
export const experimentSchema = z.strictObject(
  {
    course: z.string().max(200).optional(),
    mains: quantity('frequency', 'Mains frequency, 50 Hz or 60 Hz.')
      .refine((f) => f === 50 || f === 60, { error: 'must be 50 Hz or 60 Hz' })
      .default(50),
    sensor: sensor.default({}),
    protocol: protocol.prefault({}),
    bodies: z
      .record(
        z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$/, {
          error: 'a code is made of letters, digits, dots, hyphens and underscores, at most 40 of them',
        }),
        body,
      )
      .default({}),
  },
  { error: 'an experiment file is a list of keys such as sensor, protocol and bodies' },
);

/** An experiment as the commands see it: SI, temperatures in °C. */
export type Experiment = z.output<typeof experimentSchema>;
