import { inflate, openFile, readPieces } from './disk.ts';
import { Collector, type Read, type Retrace } from './reader.ts';
import { RowParser } from './rowparser.ts';
import { transcoder } from './running.ts';
import { Tally } from './tally.ts';
import type { Blocks, Recording } from './types.ts';

/** A recording that was read from a file. */
export interface RecordingFile extends Recording {
  readonly path: string;
  /** SHA-256 of the file's bytes as they are stored, in hexadecimal. */
  readonly sha256: string;
  /** Size of the file, bytes; of a file that was still growing, what was read of it. */
  readonly bytes: number;
}

/** Samples as they were. */
export interface Samples {
  /** s from the first sample of the recording. */
  readonly time: Float64Array;
  /** In the channel's unit. */
  readonly value: Float64Array;
}

/** Reads samples of a stretch, as `readSamples` does. */
export type Reread = (
  recording: Pick<RecordingFile, 'path' | 'name' | 'bytes'>,
  from: number,
  to: number,
  most: number,
) => Promise<Samples>;

/** Kept by the blocks, so that a copy of the recording finds them, too. */
const rereads = new WeakMap<Blocks, Reread>();

/** Makes a recording one that `readSamples` can read again, in its own way. */
export function rereadable(recording: RecordingFile, reread: Reread): RecordingFile {
  rereads.set(recording.blocks, reread);
  return recording;
}

/** Makes a recording of a file, one that `readSamples` can read again. */
export function recordingFile(
  { recording, retrace }: Read,
  file: Pick<RecordingFile, 'path' | 'sha256' | 'bytes'>,
  gzip: boolean,
): RecordingFile {
  return rereadable({ ...recording, ...file }, (of, from, to, most) => {
    return retraced(of, retrace, gzip, from, to, most);
  });
}

/**
 * Reads samples of a stretch once more, the same numbers as the first time. Only the stretch is read, but for
 * a compressed file or one in UTF-16, which is read from its start.
 *
 * @param recording what `readRecordingFile` or a followed file gave
 * @param from s from the first sample
 * @param to s, not before `from`; a sample at `to` is included
 * @param most samples to return
 * @throws RecordingError where the file is not there any more
 */
export async function readSamples(
  recording: RecordingFile,
  from: number,
  to: number,
  most: number,
): Promise<Samples> {
  const reread = rereads.get(recording.blocks);
  if (reread === undefined)
    throw new TypeError('Only a recording that was read from a file can be read again.');
  return reread(recording, from, to, most);
}

async function retraced(
  recording: Pick<RecordingFile, 'path' | 'name' | 'bytes'>,
  retrace: Retrace,
  gzip: boolean,
  from: number,
  to: number,
  most: number,
): Promise<Samples> {
  const { plan } = retrace;
  const { encoding, markBytes } = plan.encoding;
  const seekable = !gzip && !encoding.startsWith('utf-16');
  const collected = new Collected(from + retrace.firstTime, to + retrace.firstTime, most, retrace.part);
  const checkpoint = seekable
    ? retrace.checkpoints.findLast(
        (c) => c.part < retrace.part || (c.part === retrace.part && c.time < collected.from),
      )
    : undefined;
  collected.part = checkpoint?.part ?? 0;
  const sink = new Collector(
    new Tally(),
    () => collected.begin(),
    (time, value) => collected.add(time, value),
  );
  const parser =
    checkpoint === undefined ? new RowParser(plan, sink) : RowParser.resume(plan, sink, checkpoint);
  const transcode = transcoder(encoding);
  const handle = await openFile(recording.path, recording.name);
  try {
    let skip = checkpoint === undefined ? markBytes : 0;
    const start = checkpoint === undefined ? 0 : checkpoint.offset + markBytes;
    // The file may have grown since.
    let left = gzip ? Number.POSITIVE_INFINITY : recording.bytes - start;
    const take = (piece: Uint8Array): boolean => {
      const end = Math.min(piece.length, left);
      left -= end;
      const dropped = Math.min(skip, end);
      skip -= dropped;
      parser.push(transcode(piece.subarray(dropped, end)));
      return !collected.done && left > 0;
    };
    if (gzip) await inflate(handle, recording.name, () => {}, take);
    else await readPieces(handle, start, take, 1 << 17);
    if (!collected.done) parser.finish();
  } finally {
    await handle.close();
  }
  return collected.samples(retrace.firstTime);
}

class Collected {
  readonly from: number;
  readonly #to: number;
  readonly #most: number;
  readonly #wanted: number;
  readonly #times: number[] = [];
  readonly #values: number[] = [];
  part = 0;
  done = false;

  constructor(from: number, to: number, most: number, wanted: number) {
    this.from = from;
    this.#to = to;
    this.#most = Math.max(0, most);
    this.#wanted = wanted;
    this.done = this.#most === 0;
  }

  begin(): void {
    this.part++;
    if (this.part > this.#wanted) this.done = true;
  }

  add(time: number, value: number): void {
    if (this.done || this.part !== this.#wanted || time < this.from) return;
    if (time > this.#to) {
      this.done = true;
      return;
    }
    this.#times.push(time);
    this.#values.push(value);
    if (this.#times.length >= this.#most) this.done = true;
  }

  samples(firstTime: number): Samples {
    return {
      time: Float64Array.from(this.#times, (t) => t - firstTime),
      value: Float64Array.from(this.#values),
    };
  }
}
