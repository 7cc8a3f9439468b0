import { z } from 'zod';
import { interval } from './parts.ts';

const exponent = z.object({
  value: z.number(),
  interval: interval.nullable(),
  expected: z.number().nullable(),
});

const workedBack = z.object({ value: z.number(), interval });

/** Which groups' recordings count, each as `group=`; all where none is named. */
export const comparisonQuery = z.object({
  group: z
    // One alone comes as it is.
    .preprocess(
      (group) => (typeof group === 'string' ? [group] : group),
      z.array(z.string().max(100)).max(500),
    )
    .optional(),
});

/** Measured against predicted, a row a condition. */
export const comparisonView = z.object({
  conditions: z.array(
    z.object({
      body: z.string(),
      flow: z.string(),
      measured: z.object({
        value: z.number(),
        standardUncertainty: z.number(),
        interval,
        runs: z.array(z.object({ path: z.string(), group: z.string().nullable(), value: z.number() })),
      }),
      predicted: z
        .object({
          value: z.number(),
          /** Without an upper end where the prediction is too uncertain for one. */
          interval: z.tuple([z.number(), z.number().nullable()]),
        })
        .nullable(),
      /** agrees, disagrees, too weak to tell. */
      verdict: z.enum(['agrees', 'disagrees', 'inconclusive']).nullable(),
      sentence: z.string(),
      remarks: z.array(z.string()),
      /** What the measured time constant stands for: W/(m² K), and the Nusselt number; 95 % intervals. */
      heatTransfer: z
        .object({ total: workedBack, convection: workedBack, nusselt: workedBack })
        .nullable()
        .optional(),
    }),
  ),
  trends: z.array(
    z.object({
      material: z.string(),
      what: z.string().describe('diameter or flow'),
      exponent,
      sentence: z.string(),
    }),
  ),
  /** What is to be kept in mind about recordings that count; what several share, once. */
  noted: z.array(
    z.object({
      code: z.string(),
      severity: z.enum(['note', 'caution', 'repeat']),
      message: z.string(),
      paths: z.array(z.string()),
    }),
  ),
  left: z.array(z.object({ path: z.string(), why: z.string() })),
});

export type ComparisonView = z.infer<typeof comparisonView>;
