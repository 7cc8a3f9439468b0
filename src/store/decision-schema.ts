import { z } from 'zod';

const second = z.number().min(-1e9).max(1e9);
const span = z
  .strictObject({ from: second, to: second })
  .refine(({ from, to }) => from < to, { error: '"from" must be before "to"' });

const marks = z.strictObject({
  baseline: span.nullable(),
  cooling: span.nullable(),
  heating: z.int().min(1).max(100).nullable(),
});

const column = z.union([z.string().min(1).max(200), z.int().min(1).max(1000)]);

/** How the file is to be read where a person knows better than it says; what is left out is found. */
const reading = z.strictObject({
  channel: column.exactOptional(),
  unit: z.enum(['V', 'mV', 'uV', 'degC', 'degF', 'K', 'ohm']).exactOptional(),
  /** Hz */
  rate: z.number().positive().max(1e7).exactOptional(),
  decimal: z.enum(['.', ',']).exactOptional(),
  thousands: z.enum([',', '.', ' ', "'"]).exactOptional(),
  delimiter: z.enum(['\t', ',', ';', '|', 'space']).exactOptional(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'latin-1']).exactOptional(),
  timeColumn: column.exactOptional(),
  timeUnit: z.enum(['s', 'ms', 'us', 'min', 'h', 'index']).exactOptional(),
  /** Which part of a file in which the logger began anew, from 1. */
  segment: z.int().min(1).max(1000).exactOptional(),
});

const stated = {
  id: z.string().regex(/^[A-Za-z0-9-]{1,60}$/),
  /** ISO 8601 with a zone. */
  at: z.iso.datetime({ offset: true }),
  who: z.string().min(1).max(60),
  why: z.string().max(500),
  /** Of the raw file that it was made for. */
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
};

/** A decision as it is kept. */
export const storedDecision = z.discriminatedUnion('kind', [
  z.strictObject({ ...stated, kind: z.literal('marks'), marks }),
  z.strictObject({ ...stated, kind: z.literal('reject') }),
  z.strictObject({ ...stated, kind: z.literal('reading'), read: reading }),
  z.strictObject({ ...stated, kind: z.literal('undo'), undoes: z.string().max(60) }),
]);

/** Nobody decides about one recording more often than this. */
export const mostDecisions = 1000;

/** The file of a recording's decisions. */
export const decisionFile = z.strictObject({
  /** What the file is, for whoever opens it. */
  about: z.string().max(1000),
  recording: z.string().max(4000),
  decisions: z.array(storedDecision).max(mostDecisions),
});

/** Where a recording is cut, s from its first sample; null leaves what is found. */
export interface Marks {
  readonly baseline: { readonly from: number; readonly to: number } | null;
  readonly cooling: { readonly from: number; readonly to: number } | null;
  /** Which heating counts, from 1. */
  readonly heating: number | null;
}

/** How a file is to be read, with what a person knows better than it says. */
export type KeptReading = Readonly<z.output<typeof reading>>;

/** A decision as its file holds it. */
export type StoredDecision = Readonly<z.output<typeof storedDecision>>;
