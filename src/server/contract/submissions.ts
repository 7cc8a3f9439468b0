import { z } from 'zod';
import { submittedQuantities } from '../../experiment/index.ts';

const quantity = z.enum(submittedQuantities);

const sheetFault = z.object({
  line: z.number().nullable(),
  column: z.string().nullable(),
  message: z.string(),
  action: z.string(),
});

/** What lies below submissions/, by group. */
export const submissionsView = z.object({
  /** What groups are asked for, with what each is called and its unit. */
  asked: z.array(z.object({ quantity, name: z.string(), unit: z.string() })),
  groups: z.array(
    z.object({
      group: z.string(),
      section: z.string().nullable(),
      /** The sheet that counts, and when it was handed in, ISO 8601. */
      file: z.string(),
      at: z.string(),
      rows: z.number(),
      values: z.number(),
    }),
  ),
  /** Groups of the experiment that have handed nothing in. */
  waiting: z.array(z.string()),
  /** Sheets without a row that could be used. */
  unusable: z.array(z.object({ path: z.string(), faults: z.array(sheetFault) })),
  /** Files that were left out, one sentence each. */
  faults: z.array(z.string()),
});

const assessedValue = z.object({
  quantity,
  /** As it was handed in, with its unit. */
  written: z.string(),
  state: z.enum(['within', 'outside', 'follows', 'cannot-tell']),
  /** SI. */
  submitted: z.number(),
  expected: z.number().nullable(),
  /** In the unit of its column, rounded. */
  expectedWords: z.string().nullable(),
  /** Submitted less recomputed, of what the tolerance names. */
  differenceWords: z.string().nullable(),
  inUncertainties: z.number().nullable(),
});

/** What one group handed in, held against its own recordings and conditions. */
export const groupSubmission = z.object({
  group: z.string(),
  file: z.string(),
  at: z.string(),
  /** Sheets that a later one took the place of. */
  earlier: z.array(z.string()),
  rows: z.array(
    z.object({
      /** Path of the recording; null for a row about a condition alone. */
      recording: z.string().nullable(),
      about: z.string(),
      note: z.string(),
      roster: z.array(z.string()),
      trouble: z.string().nullable(),
      values: z.array(assessedValue),
      /** What gives the values that are outside. */
      sentences: z.array(z.string()),
    }),
  ),
  missing: z.array(z.object({ about: z.array(z.string()), quantities: z.array(z.string()) })),
  faults: z.array(sheetFault),
  /** The text of the feedback as it would be written; null where its own texts have a fault. */
  feedback: z.string().nullable(),
  feedbackTrouble: z.string().nullable(),
});

/** Values as a person types them in; what is not named is taken out. */
export const enterRequest = z.object({
  rows: z
    .array(
      z.object({
        recording: z.string().min(1).max(400),
        note: z.string().max(500),
        values: z.partialRecord(quantity, z.string().max(100)),
      }),
    )
    .min(1)
    .max(200),
});

/** Where a sheet that was taken is kept. */
export const takenSheet = z.object({ path: z.string() });

export type SubmissionsView = z.infer<typeof submissionsView>;
export type GroupSubmission = z.infer<typeof groupSubmission>;
export type EnterRequest = z.infer<typeof enterRequest>;
export type AskedQuantity = z.infer<typeof quantity>;
