import { gunzipSync, gzipSync } from 'node:zlib';
import { z } from 'zod';
import type { Opening, PartState } from '../recording/files.ts';
import type { ReadOptions, Recording } from '../recording/index.ts';
import { version } from '../version.ts';

/** Counted up where a file means something else than before. */
const format = 'emberline samples 1';
/** The opening of a text is not longer, bytes. */
const longestOpening = 1 << 18;
/** A logger that began more often in one file did not record a trial. */
export const mostParts = 1000;
/** More columns than a text is read with. */
const mostColumns = 512;

const count = z.number().int().nonnegative();
const lines = z.array(count).max(3);
const losses = [
  'blank',
  'not-a-number',
  'overload',
  'unreadable',
  'no time',
  'out of order',
  'text line',
  'too many cells',
  'too few cells',
  'cut off',
] as const;
const repairs = [
  'midnight',
  'clock put forward',
  'clock put back',
  'ran backwards',
  'repeated',
  'full hour',
  'rolled over',
] as const;

const partSchema = z.object({
  line: count,
  raw: z.number(),
  tally: z.object({
    losses: z.array(z.tuple([z.enum(losses), count, lines])).max(losses.length),
    repairs: z.array(z.tuple([z.enum(repairs), count, lines])).max(repairs.length),
    gaps: z.array(z.object({ at: z.number(), length: z.number(), line: count })).max(5),
    gapCount: count,
    gapTotal: z.number(),
    uneven: count,
  }),
}) satisfies z.ZodType<PartState>;

const mark = z.enum(['.', ',']);
const readingSchema = z
  .object({
    channel: z.union([z.string(), z.number()]),
    unit: z.enum(['V', 'mV', 'uV', 'degC', 'degF', 'K', 'ohm']),
    rate: z.number(),
    decimal: mark,
    thousands: z.enum([',', '.', ' ', "'"]).nullable(),
    delimiter: z.enum(['\t', ',', ';', '|', 'space']),
    encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'latin-1']),
    timeColumn: z.union([z.string(), z.number()]),
    timeUnit: z.enum(['s', 'ms', 'us', 'min', 'h', 'index']),
    segment: z.number(),
  })
  .partial();

/** What is needed to read a recording again from its rows, beside the rows. */
const rereadSchema = z.object({
  reading: readingSchema,
  columns: z.array(z.number().int().positive()).min(1).max(mostColumns),
  parts: z.array(partSchema).min(1).max(mostParts),
  opening: z.object({ gzip: z.base64().max(2 * longestOpening), complete: z.boolean() }),
});

/** A file's own words about itself, each a text. */
const wordsSchema = z.object({
  format: z.literal(format),
  recording: z.string().max(4000),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.coerce.number().int().nonnegative(),
  rows: z.coerce.number().int().nonnegative(),
  samples: z.coerce.number().int().nonnegative(),
  reread: z.string(),
});

/** What a file of an archive says of itself. */
export interface ArchiveFacts {
  /** Path of the recording in its experiment folder. */
  readonly recording: string;
  /** Of the text that it was made from. */
  readonly sha256: string;
  readonly bytes: number;
  readonly rows: number;
  /** Usable samples of its channel. */
  readonly samples: number;
  /** What was known of how the text is to be read. */
  readonly reading: ReadOptions;
  /** Columns of the text, counted from 1: the channel, then the others that hold readings. */
  readonly columns: readonly number[];
  readonly parts: readonly PartState[];
  readonly opening: Opening;
}

/** What is written into a file besides its rows, key by key, so that it can be read again, and understood without us. */
export function statedFacts(
  facts: ArchiveFacts,
  { channel, channels, dialect, startedAt, rate, preamble, remarks }: Recording,
  modified: number,
): Readonly<Record<string, string>> {
  const { reading, columns, parts, opening } = facts;
  return {
    format,
    emberline: version,
    recording: facts.recording,
    sha256: facts.sha256,
    bytes: String(facts.bytes),
    modified: new Date(modified).toISOString(),
    rows: String(facts.rows),
    samples: String(facts.samples),
    channel: channel.name,
    unit: channel.unit ?? '',
    rate_hz: String(rate),
    started_at: startedAt ?? '',
    channels: JSON.stringify(channels),
    dialect: JSON.stringify(dialect),
    preamble: JSON.stringify(preamble),
    remarks: JSON.stringify(remarks.map(({ code, message }) => ({ code, message }))),
    reread: JSON.stringify({
      reading,
      columns,
      parts,
      opening: {
        gzip: gzipSync(opening.bytes, { level: 9 }).toString('base64'),
        complete: opening.complete,
      },
    }),
  };
}

/**
 * Understands what a file says of itself.
 *
 * @param words text by key
 * @returns what it says, or what of it does not fit
 */
export function factsFrom(words: Readonly<Record<string, string>>): ArchiveFacts | string {
  if (words['format'] === undefined) return 'it was not written by emberline archive';
  const told = wordsSchema.safeParse(words);
  if (!told.success) return fault(told.error, 'it');
  let parsed: unknown;
  try {
    parsed = JSON.parse(told.data.reread);
  } catch {
    return 'what it says of itself is no JSON';
  }
  const read = rereadSchema.safeParse(parsed);
  if (!read.success) return fault(read.error, 'reread');
  const { reading, columns, parts, opening } = read.data;
  if (new Set(columns).size !== columns.length) return 'it names a column twice';
  try {
    const bytes = gunzipSync(Buffer.from(opening.gzip, 'base64'), { maxOutputLength: longestOpening });
    const { recording, sha256, bytes: size, rows, samples } = told.data;
    return {
      recording,
      sha256,
      bytes: size,
      rows,
      samples,
      reading: withoutUndefined(reading),
      columns,
      parts,
      opening: { bytes, complete: opening.complete },
    };
  } catch {
    return 'the opening of its text is damaged';
  }
}

function fault({ issues }: z.ZodError, place: string): string {
  const [issue] = issues;
  return `${issue?.path.join(' › ') || place}: ${issue?.message ?? 'does not fit'}`.slice(0, 300);
}

type Loose<T> = { readonly [K in keyof T]?: T[K] | undefined };

/** Options that are there with nothing in them are not given. */
function withoutUndefined({
  channel,
  unit,
  rate,
  decimal,
  thousands,
  delimiter,
  encoding,
  timeColumn,
  timeUnit,
  segment,
}: Loose<ReadOptions>): ReadOptions {
  return {
    ...(channel !== undefined && { channel }),
    ...(unit !== undefined && { unit }),
    ...(rate !== undefined && { rate }),
    ...(decimal !== undefined && { decimal }),
    ...(thousands !== undefined && { thousands }),
    ...(delimiter !== undefined && { delimiter }),
    ...(encoding !== undefined && { encoding }),
    ...(timeColumn !== undefined && { timeColumn }),
    ...(timeUnit !== undefined && { timeUnit }),
    ...(segment !== undefined && { segment }),
  };
}
