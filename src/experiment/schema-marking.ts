import { z } from 'zod';
import { codeText } from './codes.ts';
import { readTolerance, toleranceRange } from './tolerance.ts';
import { words, written } from './written.ts';

/** What a group may be asked to hand in, in the order in which one value is worked from another. */
export const submittedQuantities = [
  'point',
  'origin',
  'intercept',
  'standard-uncertainty',
  'expanded-uncertainty',
  'reynolds',
  'nusselt',
  'heat-transfer-coefficient',
  'predicted',
  'biot',
  'predicted-standard-uncertainty',
  'predicted-expanded-uncertainty',
] as const;

/**
 * `point`, `origin`, `intercept`: time constants by the 36.8 % point, by regression of the logarithm through the origin
 * and with an intercept, s; the two uncertainties after them are of the one through the origin, s. `predicted` and what
 * stands before it belong to the condition: Reynolds and Nusselt number, W/(m² K), s, Biot number; the last two are of
 * the predicted time constant, s.
 */
export type SubmittedQuantity = (typeof submittedQuantities)[number];

const quantityName = z.enum(submittedQuantities, {
  error: `write one of ${submittedQuantities.join(', ')}`,
});

const quantityList = z
  .array(quantityName, { error: `write a list such as [point, origin]` })
  .max(submittedQuantities.length, { error: 'a quantity stands here twice' })
  .refine((list) => new Set(list).size === list.length, { error: 'a quantity stands here twice' });

function tolerance(description: string, usual: string) {
  const facts = { dimension: null, uncertain: false, range: toleranceRange };
  return written(readTolerance, `How far it may be off: ${description}`, usual, facts).prefault(usual);
}

const tolerances = z
  .strictObject({
    point: tolerance('the time constant at 36.8 %.', '5 % of the recomputed value'),
    origin: tolerance('the time constant through the origin.', '5 % of the recomputed value'),
    intercept: tolerance('the time constant with an intercept.', '5 % of the recomputed value'),
    'standard-uncertainty': tolerance('the standard uncertainty.', '30 % of the recomputed value'),
    'expanded-uncertainty': tolerance('the expanded uncertainty.', '30 % of the recomputed value'),
    reynolds: tolerance('the Reynolds number.', '5 % of the recomputed value'),
    nusselt: tolerance('the Nusselt number.', '5 % of the recomputed value'),
    'heat-transfer-coefficient': tolerance('the heat transfer coefficient.', '8 % of the recomputed value'),
    predicted: tolerance('the predicted time constant.', '10 % of the recomputed value'),
    biot: tolerance('the Biot number.', '15 % of the recomputed value'),
    'predicted-standard-uncertainty': tolerance(
      'the standard uncertainty of the prediction.',
      '30 % of the recomputed value',
    ),
    'predicted-expanded-uncertainty': tolerance(
      'the expanded uncertainty of the prediction.',
      '30 % of the recomputed value',
    ),
  })
  .describe(
    'How far each value may be from the recomputed one: a percentage of the recomputed value, of the submitted value or of the mean of both; or a number of standard uncertainties.',
  );

const criterion = z.strictObject({
  code: codeText.describe('Name of its column in marks.csv.'),
  points: z
    .number({ error: 'write a number of points, such as 4' })
    .gt(0, { error: 'must be more than 0' })
    .max(1000, { error: 'must be at most 1000' })
    .describe('Most points.'),
  words: words('What earns them, as the group reads it.'),
  of: quantityList
    .describe('Quantities whose values it is about: points are then suggested from them; leave out for none.')
    .default([]),
});

/** What groups hand in, and how it is marked. */
export const marking = z.strictObject({
  asked: quantityList
    .describe('What each group hands in for a recording.')
    .default([
      'point',
      'origin',
      'intercept',
      'standard-uncertainty',
      'reynolds',
      'nusselt',
      'heat-transfer-coefficient',
      'predicted',
      'biot',
    ]),
  tolerance: tolerances.prefault({}),
  rubric: z
    .array(criterion, { error: 'write a list of criteria, each with code, points and words' })
    .max(50, { error: 'list at most 50' })
    .refine((list) => new Set(list.map(({ code }) => code.toLowerCase())).size === list.length, {
      error: 'two criteria have the same code',
    })
    .describe('Criteria of the marks, in your own words.')
    .default([]),
});
