import { z } from 'zod';

/** Which day of the trail is asked for, UTC; the last one where it is left out. */
export const trailQuery = z.object({
  day: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/, { error: 'write it as 2026-03-02' })
    .optional(),
});

/** Who did what on one day. */
export const trailView = z.object({
  /** Days of which there is a trail, the first first. */
  days: z.array(z.string()),
  /** The one that is shown; null where there is none at all. */
  day: z.string().nullable(),
  entries: z.array(
    z.object({
      number: z.number(),
      /** ISO 8601 with zone. */
      time: z.string(),
      role: z.string(),
      group: z.string(),
      label: z.string(),
      done: z.string(),
      /** Path of the file that it is about; empty where it is about none. */
      about: z.string(),
      sha256: z.string(),
      note: z.string(),
    }),
  ),
});
