import { z } from 'zod';
import { fault, remark } from './parts.ts';

const hash = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .describe('SHA-256 of the text, in hexadecimal.');

/** The experiment file as it stands, for the page to read by itself. */
export const experimentView = z.object({
  /** Name of the folder, without its path. */
  folder: z.string(),
  course: z.string().nullable(),
  version: z.string(),
  text: z.string(),
  hash,
  faults: z.array(fault),
  cautions: z.array(remark.extend({ line: z.number() })),
});

/** Values to be changed, each as it would be written in the file; null takes the key out. */
export const changeRequest = z.object({
  hash,
  changes: z
    .array(
      z.object({
        place: z.array(z.string().max(100)).min(1).max(8),
        value: z.union([z.string().max(400), z.number(), z.boolean(), z.null()]),
      }),
    )
    .min(1)
    .max(200),
});

/** The file as it would be, and how that differs from what it is. Nothing is written. */
export const changeView = z.object({
  text: z.string(),
  hash,
  difference: z.array(
    z.object({ kind: z.enum(['same', 'gone', 'new']), line: z.number(), text: z.string() }),
  ),
  faults: z.array(fault),
});

/** A whole new text; `hash` is of the one that it was made from. */
export const saveRequest = z.object({ hash, text: z.string().max(1 << 20) });

export type ExperimentView = z.infer<typeof experimentView>;
export type ChangeRequest = z.infer<typeof changeRequest>;
export type ChangeView = z.infer<typeof changeView>;
