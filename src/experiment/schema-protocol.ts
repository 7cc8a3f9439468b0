import { z } from 'zod';
import { correlations, type Geometry, usualCorrelationAccuracy } from '../prediction/index.ts';
import { codeReference } from './codes.ts';
import { quantity, ratio, whole, words } from './written.ts';

const fraction = z
  .number({ error: 'write a plain number between 0 and 1' })
  .gt(0, { error: 'must be more than 0' })
  .lt(1, { error: 'must be less than 1' });

export const bodyTemperature = { low: -20, high: 225, words: '-20 degC to 225 degC' };
export const limitTemperature = { low: -20, high: 1000, words: '-20 degC to 1000 degC' };
export const spans = { low: 0, high: 86_400, words: '0 s to 24 h' };

/** How a trial is done and judged. */
export const protocol = z.strictObject({
  baseline: quantity('time', 'Shortest stretch before the heating.', '15 s', spans).prefault('15 s'),
  target: quantity(
    'temperature',
    'Temperature that the heating should reach.',
    '95 degC',
    bodyTemperature,
  ).optional(),
  limit: quantity(
    'temperature',
    'Temperature that no body may pass.',
    '140 degC',
    limitTemperature,
  ).optional(),
  'end-fraction': fraction.describe('Error fraction that the cooling should reach.').default(0.1),
  window: z
    .strictObject({
      from: fraction.describe('The larger error fraction, where the fits begin.'),
      to: fraction.describe('The smaller one, where they end.'),
    })
    .refine((window) => window.from > window.to, { error: 'from must be larger than to, as 0.9 and 0.1' })
    .describe('Error fractions between which the classroom fits are made.')
    .default({ from: 0.9, to: 0.1 }),
  repeats: whole('Trials of each condition; at least 3 are common practice.', 1, 50).default(3),
  'ambient-offset': quantity(
    'temperature-difference',
    'Standard uncertainty of the ambient in the jet against the baseline: 0.3 K, or 0.1 K when the sensor is held in the running jet before heating.',
    '0.3 K',
    { low: 1e-6, high: 50, words: 'an uncertainty above 0 K and up to 50 K' },
  ).prefault('0.3 K'),
  drift: quantity('temperature-rate', 'Standard uncertainty of the drift of the zero.', '0.05 K/min', {
    low: 0,
    high: 1,
    words: '0 K/s to 1 K/s',
  }).prefault('0.05 K/min'),
});

function idsFor(geometry: Geometry): string[] {
  return correlations
    .filter((one) => one.geometry === geometry && one.convection === 'forced')
    .map(({ id }) => id);
}

function correlation(geometry: Geometry, description: string) {
  const ids = idsFor(geometry);
  return z
    .enum(ids, { error: `write one of ${ids.join(', ')}` })
    .describe(description)
    .optional();
}

/** How far theory is trusted. */
export const prediction = z.strictObject({
  accuracy: ratio('How far the correlation may be off, as a part of the Nusselt number.', '30 %', {
    low: 0,
    high: 0.99,
    words: '0 % to 99 %',
  }).prefault(usualCorrelationAccuracy.relative),
  'coverage-factor': z
    .number({ error: 'write a plain number such as 2' })
    .positive({ error: 'must be more than 0' })
    .max(10, { error: 'must be at most 10' })
    .describe(
      'How many standard uncertainties that accuracy is: 2 for an expanded one, 1 for a standard one.',
    )
    .default(usualCorrelationAccuracy.coverageFactor),
  sphere: correlation('sphere', 'Correlation for spheres.'),
  wire: correlation('cylinder', 'Correlation for wires.'),
});

/** The time that a session has and what it goes into. */
export const session = z.strictObject({
  length: quantity('time', 'From the first minute to the last.', '110 min', {
    low: 60,
    high: 86_400,
    words: 'a length from 1 min to 24 h',
  }).optional(),
  start: z
    .string({ error: 'write the time of day in quotes, such as "14:00"' })
    .regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'write the time of day in quotes, such as "14:00"' })
    .describe('Time of day, in quotes.')
    .optional(),
  'set-up': quantity('time', 'Until the first trial can begin.', '15 min', spans).prefault('15 min'),
  zeroing: quantity('time', 'To short the input of the amplifier and log its zero.', '2 min', spans).prefault(
    '2 min',
  ),
  'change-over': quantity('time', 'From one body or flow to the next.', '2 min', spans).prefault('2 min'),
  'ice-bath': quantity('time', 'How long before use the ice bath is made.', '30 min', spans).prefault(
    '30 min',
  ),
  reserve: quantity('time', 'Kept free for what goes wrong.', '10 min', spans).prefault('10 min'),
});

/** What the bodies are heated with. */
export const heating = z.strictObject({
  stream: quantity('temperature', 'Temperature of the hot air where the body stands.', '180 degC', {
    low: 30,
    high: 700,
    words: 'a temperature from 30 degC to 700 degC',
  }).optional(),
});

/** Which conditions there are: all of body and flow, but for those left out. */
export const conditions = z.strictObject({
  'left-out': z
    .array(
      z
        .strictObject({
          body: codeReference('Code of a body; leave out for all.').optional(),
          flow: codeReference('Code of a flow; leave out for all.').optional(),
          why: words('Why, for those who read the plan.'),
        })
        .refine(({ body, flow }) => body !== undefined || flow !== undefined, {
          error: 'name a body, a flow or both',
        }),
      { error: 'write a list, each with body, flow and why' },
    )
    .max(500, { error: 'list at most 500' })
    .describe('Conditions that are not measured.')
    .default([]),
});
