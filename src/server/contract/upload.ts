import { z } from 'zod';
import { place, remark } from './parts.ts';

/** What a person can say better than the file. Empty takes what is found. */
export const readOptions = z.object({
  channel: z.union([z.string().max(200), z.int().min(1).max(1000)]).optional(),
  unit: z.enum(['V', 'mV', 'uV', 'degC', 'degF', 'K', 'ohm']).optional(),
  rate: z.number().positive().max(1e7).optional(),
  decimal: z.enum(['.', ',']).optional(),
  thousands: z.enum([',', '.', ' ', "'"]).optional(),
  delimiter: z.enum(['\t', ',', ';', '|', 'space']).optional(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'latin-1']).optional(),
  timeColumn: z.union([z.string().max(200), z.int().min(1).max(1000)]).optional(),
  timeUnit: z.enum(['s', 'ms', 'us', 'min', 'h', 'index']).optional(),
});

/** What was understood of a file. */
const understood = z.object({
  encoding: z.string(),
  delimiter: z.string(),
  decimal: z.string(),
  thousands: z.string().nullable(),
  firstDataLine: z.number(),
  time: z.string().describe('Where the time comes from, in words.'),
  rate: z.number(),
  samples: z.number(),
  duration: z.number(),
  channel: z.string(),
  column: z.number(),
  unit: z.string().nullable(),
  channels: z.array(z.object({ column: z.number(), name: z.string(), unit: z.string().nullable() })),
  preamble: z.array(z.string()),
  remarks: z.array(remark),
});

/** A file that was handed over and waits to be taken, read as far as it can be. */
export const upload = z.object({
  id: z.string(),
  name: z.string(),
  bytes: z.number(),
  sha256: z.string(),
  options: readOptions,
  understood: understood.nullable(),
  /** What is in the way, and what to choose; null where the file is understood. */
  trouble: z.object({ message: z.string(), mend: z.string(), line: z.number().nullable() }).nullable(),
  /** First lines with their cells, as they were cut. */
  rows: z.array(z.object({ line: z.number(), cells: z.array(z.string()) })),
  /** Where the name says that it belongs, and a recording with the same bytes that is there already. */
  place: place.nullable(),
  sameAs: z.string().nullable(),
});

export const keepRequest = z.object({
  place: z.object({
    section: z.string().max(100).optional(),
    group: z.string().max(100).optional(),
    bench: z.string().max(100).optional(),
    body: z.string().max(100),
    flow: z.string().max(100),
    repeat: z.int().min(1).max(99).optional(),
  }),
});

export const kept = z.object({ path: z.string() });

export type UploadView = z.infer<typeof upload>;
export type ReadOptionsView = z.infer<typeof readOptions>;
export type KeepRequest = z.infer<typeof keepRequest>;
