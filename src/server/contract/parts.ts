import { z } from 'zod';

/** A stretch of a recording, s from its first sample. */
export const span = z.object({ from: z.number(), to: z.number() });

/** A 95 % interval. */
export const interval = z.tuple([z.number(), z.number()]);

export const verdict = z.enum(['usable', 'usable-with-remarks', 'repeat']);

/** What Emberline has to say about a place in the data. */
export const remark = z.object({
  code: z.string(),
  severity: z.enum(['note', 'caution', 'repeat']),
  message: z.string(),
  action: z.string(),
  at: span.optional(),
});

/** What a recording is of, as far as its path says. */
export const place = z.object({
  section: z.string().nullable(),
  group: z.string().nullable(),
  bench: z.string().nullable(),
  body: z.string().nullable(),
  flow: z.string().nullable(),
  repeat: z.number().nullable(),
});

/** A fault of the experiment file, with its line. */
export const fault = z.object({ line: z.number(), place: z.string(), message: z.string() });

/** What went wrong, as RFC 9457 has it, and what to do. */
export const problem = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number(),
  detail: z.string(),
  mend: z.string(),
  faults: z.array(fault).optional(),
});

export type Span = z.infer<typeof span>;
export type RemarkView = z.infer<typeof remark>;
export type PlaceView = z.infer<typeof place>;
export type Problem = z.infer<typeof problem>;
