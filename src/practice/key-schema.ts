import { z } from 'zod';

const condition = z.looseObject({ body: z.string(), flow: z.string() });
const number = z.number();

/** What a key file must hold to be shown; what else it holds is passed on. */
export const practiceKeySchema = z.looseObject({
  format: z.literal('emberline practice key 1'),
  version: z.string(),
  course: z.string().nullable(),
  seed: z.string(),
  pattern: z.string(),
  nusseltMultiplier: number,
  benchMultipliers: z.record(z.string(), number),
  recordings: z
    .array(
      z.looseObject({
        path: z.string(),
        sha256: z.string(),
        group: z.string(),
        section: z.string().nullable(),
        bench: z.string(),
        condition,
        repeat: z.int(),
        shows: z.looseObject({ group: z.string(), condition, repeat: z.int() }),
        faults: z.array(
          z.looseObject({ name: z.string(), numbers: z.record(z.string(), z.union([number, z.string()])) }),
        ),
        // Keys of earlier versions have none.
        handedIn: z
          .looseObject({ slips: z.array(z.string()) })
          .nullable()
          .default(null),
        truth: z.looseObject({
          timeConstant: number.nullable(),
          lumpedTimeConstant: number,
          biot: number,
          peak: number,
          coolingAir: number,
          endFraction: number,
        }),
        inputs: z.looseObject({ nusseltMultiplier: number }),
      }),
    )
    .max(10_000),
});

/** A key as it was read from a file. */
export type ReadPracticeKey = z.output<typeof practiceKeySchema>;
