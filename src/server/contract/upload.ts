import { z } from 'zod';
import { place, remark } from './parts.ts';

const column = z.union([z.string().min(1).max(200), z.int().min(1).max(1000)]);

/** What a person can say better than the file. Empty takes what is found. */
export const readOptions = z.object({
  channel: column.optional(),
  unit: z.enum(['V', 'mV', 'uV', 'degC', 'degF', 'K', 'ohm']).optional(),
  rate: z.number().positive().max(1e7).optional(),
  decimal: z.enum(['.', ',']).optional(),
  thousands: z.enum([',', '.', ' ', "'"]).optional(),
  delimiter: z.enum(['\t', ',', ';', '|', 'space']).optional(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'latin-1']).optional(),
  timeColumn: column.optional(),
  timeUnit: z.enum(['s', 'ms', 'us', 'min', 'h', 'index']).optional(),
  /** Which part of a file in which the logger began anew, from 1. */
  segment: z.int().min(1).max(1000).optional(),
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

/** A file as it is read with what a person says better, as far as it can be read. */
export const fileReading = z.object({
  /** What the file is called. */
  name: z.string(),
  options: readOptions,
  understood: understood.nullable(),
  /** What is in the way, and what to choose; null where the file is understood. */
  trouble: z.object({ message: z.string(), mend: z.string(), line: z.number().nullable() }).nullable(),
  /** First lines with their cells, as they were cut. */
  rows: z.array(z.object({ line: z.number(), cells: z.array(z.string()) })),
});

/** A file that was handed over and waits to be taken. */
export const upload = fileReading.extend({
  id: z.string(),
  bytes: z.number(),
  sha256: z.string(),
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
  /** How it is to be read from now on; kept as a decision about the recording. */
  reading: z
    .object({
      read: readOptions,
      who: z.string().trim().min(1).max(60),
      why: z.string().trim().max(500),
    })
    .optional(),
});

export const kept = z.object({
  path: z.string(),
  /** Whether the same bytes were there before; nothing was added then. */
  again: z.boolean(),
});

/** The recording that has some bytes. */
export const knownBytes = z.object({ path: z.string().nullable() });

/** A recording that was handed in at one stroke. */
export const handedIn = kept.extend({
  bytes: z.number(),
  sha256: z.string(),
  /** Whether it can be read by itself. */
  readable: z.boolean(),
  /** What became of it, and what to do where it cannot be read. */
  detail: z.string(),
  mend: z.string().nullable(),
  remarks: z.array(remark),
});

export type FileReading = z.infer<typeof fileReading>;
export type UploadView = z.infer<typeof upload>;
export type ReadOptionsView = z.infer<typeof readOptions>;
export type Kept = z.infer<typeof kept>;
export type HandedInView = z.infer<typeof handedIn>;
export type KeepRequest = z.infer<typeof keepRequest>;
