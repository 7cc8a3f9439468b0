import { createHash } from 'node:crypto';
import { z } from 'zod';
import { recordingHash } from '../archive/index.ts';
import { type FileTraits, readResult, writeResult } from '../store/index.ts';
import { version } from '../version.ts';
import type { OpenRequest } from './analyze-file.ts';
import { type Essence, essenceSchema } from './essence.ts';

/** What became of a recording: an analysis, or why there is none. */
export type ListResult =
  | { readonly kind: 'analyzed'; readonly essence: Essence }
  | { readonly kind: 'unreadable'; readonly message: string };

/** A result with what it was made from. */
export interface KeptResult {
  readonly traits: FileTraits;
  readonly sha256: string;
  /** Hash of version and settings. */
  readonly key: string;
  readonly result: ListResult;
}

/** Counted up where what is kept means something else than before. */
const format = 'emberline result 4';

export const traitsSchema = z.object({ size: z.number(), modified: z.number(), changed: z.number() });

const keptKeys = {
  traits: traitsSchema,
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  key: z.string(),
  result: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('analyzed'), essence: essenceSchema }),
    z.object({ kind: z.literal('unreadable'), message: z.string() }),
  ]),
};

const keptSchema = z.object({ format: z.literal(format), ...keptKeys });
/** Of an earlier term, whose recordings may be packed away: what was kept then still says what came of them. */
const earlierSchema = z.object({
  format: z.enum(['emberline result 2', 'emberline result 3', format]),
  ...keptKeys,
});

/** What is kept of a recording; null where there is nothing that can be used. */
export async function keptResult(folder: string, recording: string): Promise<KeptResult | null> {
  return keptFrom(await readResult(folder, recording));
}

/** A kept result from what was read of it; null where it cannot be used. */
export function keptFrom(read: unknown): KeptResult | null {
  const found = keptSchema.safeParse(read);
  return found.success ? found.data : null;
}

/** A kept result as it is written. */
export function writtenFrom(kept: KeptResult) {
  return { format, ...kept };
}

/** What was kept of a recording of an earlier term, by this version or one before; null where there is nothing. */
export async function earlierResult(folder: string, recording: string): Promise<KeptResult | null> {
  const read = earlierSchema.safeParse(await readResult(folder, recording));
  return read.success ? read.data : null;
}

/** Keeps a result beside its recording. */
export async function keepResult(folder: string, recording: string, kept: KeptResult): Promise<void> {
  await writeResult(folder, recording, writtenFrom(kept));
}

/** A hash of everything but the raw file that a result depends on. */
export function resultKey({ read, chain }: Pick<OpenRequest, 'read' | 'chain'>, settings: unknown): string {
  return createHash('sha256')
    .update(JSON.stringify([version, read, chain, settings]))
    .digest('hex');
}

export function sameTraits(a: FileTraits, b: FileTraits): boolean {
  return a.size === b.size && a.modified === b.modified && a.changed === b.changed;
}

/** SHA-256 of a recording's text, of which the archive may be all that is left; null where it cannot be read. */
export async function hashOf(path: string): Promise<string | null> {
  return recordingHash(path).catch(() => null);
}
