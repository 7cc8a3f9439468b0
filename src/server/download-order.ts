import { z } from 'zod';
import { fault } from './contract/index.ts';
import { problemKind } from './problem.ts';

const path = z.string();
const paper = z.enum(['a4', 'us-letter']).nullable();
const figures = z.union([z.literal(1), z.literal(2)]).nullable();
const format = z.enum(['pdf', 'html']);

/** A document or data that are asked for, as the rooms of reports and exports take them. */
const downloadOrder = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('trial'), path, figures, format, paper }),
  z.object({ kind: z.literal('worked'), path, figures, format, paper }),
  z.object({ kind: z.literal('group'), group: z.string(), pages: z.boolean(), figures, format, paper }),
  // Earlier terms beside those of the experiment file, and names, are for the command line alone.
  z.object({
    kind: z.literal('class'),
    section: z.string().nullable(),
    earlier: z.tuple([]),
    names: z.null(),
    figures,
    format,
    paper,
  }),
  z.object({ kind: z.enum(['bench-sheet', 'plain-bench-sheet']), figures, format, paper }),
  z.object({
    kind: z.literal('briefing'),
    example: z.string().nullable(),
    format: z.enum(['pdf', 'html', 'slides']),
    figures,
    paper,
  }),
  z.object({
    kind: z.literal('results'),
    format: z.enum(['csv', 'json', 'parquet', 'xlsx', 'package']),
  }),
  z.object({ kind: z.literal('cooling'), path, format: z.enum(['csv', 'xlsx']) }),
  z.object({ kind: z.literal('figure'), path, format: z.enum(['svg', 'png']) }),
]);

/** What a process is given to do. */
export const downloadJob = z.object({ folder: z.string(), order: downloadOrder });

/** What became of it. A refusal is the parts of a RequestProblem; a fault is for the log. */
export const downloadAnswer = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('made'),
    file: z.object({
      name: z.string(),
      type: z.string(),
      bytes: z.custom<Uint8Array>((bytes) => bytes instanceof Uint8Array),
      remarks: z.array(z.string()),
    }),
  }),
  z.object({
    kind: z.literal('refused'),
    problem: z.object({
      kind: problemKind,
      detail: z.string(),
      mend: z.string(),
      faults: z.array(fault).optional(),
    }),
  }),
  z.object({ kind: z.literal('fault'), what: z.string() }),
]);

export type DownloadOrder = z.infer<typeof downloadOrder>;
export type DownloadAnswer = z.infer<typeof downloadAnswer>;
