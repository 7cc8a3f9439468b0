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

/** A number, or nothing where it is not known. */
const maybe = z.number().nullable();

/** When the end fraction will be reached, s from the latest reading; null where no time can be named. */
export const forecast = z
  .object({
    remaining: maybe,
    interval: z.tuple([maybe, maybe]),
    from: z.enum(['fit', 'expected']),
  })
  .nullable();

/** What to do at the bench now. */
export const advice = z.object({
  action: z.enum(['start', 'go-on', 'heat-off', 'stop', 'repeat']),
  message: z.string(),
});

/** A trial so far, thinned: times in s from the first reading, temperatures in °C. */
export const series = z.object({
  time: z.array(z.number()),
  temperature: z.array(maybe),
});

/** Something that a trial has to pass, as everybody at the bench is told it. */
export const gate = z.object({
  code: z.string(),
  state: z.enum(['open', 'met', 'close', 'missed']),
  message: z.string(),
  mend: z.string().nullable(),
});

export type Span = z.infer<typeof span>;
export type RemarkView = z.infer<typeof remark>;
export type PlaceView = z.infer<typeof place>;
export type Problem = z.infer<typeof problem>;
