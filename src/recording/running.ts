import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { Parts, type Sink } from './parts.ts';
import type { PlainForm } from './plainrows.ts';
import { type Plan, planReading } from './plan.ts';
import { RowParser } from './rowparser.ts';
import { findEncoding, lineDecoder, requireText } from './text.ts';
import type { Recording } from './types.ts';

/** A file that is understood and being read. */
export interface Running {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly parser: RowParser;
  /** Takes the next bytes of the file as they are stored. */
  readonly feed: (bytes: Uint8Array) => void;
  /** How its plainest rows are written as they are stored; null where none is plain, or where they are stored otherwise. */
  readonly plainForm: PlainForm | null;
}

/** Puts a sink between the rows and the parts that they belong to. */
export type Tap = (parts: Parts, companions: number) => Sink;

/**
 * Understands how a file is written, and reads its head.
 *
 * @param raw the first bytes of the file
 * @param complete whether they are all that there is
 * @param tap what the rows pass on their way; nothing where left out
 * @throws RecordingError
 */
export function startReading(
  raw: Uint8Array,
  complete: boolean,
  options: ReadOptions,
  tap: Tap = (parts) => parts,
): Running {
  const { plan, head, transcode } = understood(raw, complete, options);
  const { companions } = plan.choice;
  const parts = new Parts(plan.time.samplePeriod, companions.length, options.segment ?? null);
  const parser = new RowParser(plan, tap(parts, companions.length));
  parser.push(head);
  const plainForm = isReadAsStored(plan.dialect.encoding) ? parser.plainForm : null;
  return { plan, parts, parser, feed: (bytes) => parser.push(transcode(bytes)), plainForm };
}

/**
 * Understands how a file is written.
 *
 * @param raw the first bytes of the file
 * @param complete whether they are all that there is
 * @throws RecordingError
 */
export function understood(raw: Uint8Array, complete: boolean, options: ReadOptions) {
  const name = options.name ?? 'recording';
  const encoding = findEncoding(raw, options.encoding);
  const transcode = transcoder(encoding.encoding);
  const head = transcode(raw.subarray(encoding.markBytes));
  requireText(head, name);
  if (head.every((byte) => byte <= 32)) {
    throw new RecordingError(
      'empty',
      name,
      null,
      'There is nothing in it.',
      'Check that the logger was recording.',
    );
  }
  const decode = lineDecoder(encoding.encoding === 'latin-1' ? 'latin-1' : 'utf-8');
  return { plan: planReading(head, complete, encoding, decode, options), head, transcode };
}

/** Whether a file is read as it is stored. */
function isReadAsStored(encoding: Recording['dialect']['encoding']): boolean {
  return encoding !== 'utf-16le' && encoding !== 'utf-16be';
}

/** UTF-16 is read as UTF-8, piece by piece; the other encodings are read as they are. */
export function transcoder(encoding: Recording['dialect']['encoding']): (bytes: Uint8Array) => Uint8Array {
  if (isReadAsStored(encoding)) return (bytes) => bytes;
  const decoder = new TextDecoder(encoding, { ignoreBOM: true });
  const encoder = new TextEncoder();
  return (bytes) => encoder.encode(decoder.decode(bytes, { stream: true }));
}
