import { createHash } from 'node:crypto';
import { isGzip } from './disk.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { Reader } from './reader.ts';
import { type RecordingFile, recordingFile } from './samples.ts';
import { type Encoding, findEncoding } from './text.ts';
import type { Recording } from './types.ts';

/** Bytes that are kept of the start and of the end of what was taken, to know the file again. */
const printSize = 4096;
/** Fewer bytes do not tell an encoding. */
const fewestForEncoding = 4;

const nothing = new Uint8Array(0);

/** What was taken of a growing file: its whole lines, and how to know the file again. */
export class Intake {
  readonly #name: string;
  readonly #options: ReadOptions;
  readonly #reader: Reader;
  readonly #hash = createHash('sha256');
  #taken = 0;
  #head = nothing;
  #tail = nothing;
  #encoding: Encoding | null = null;
  #lineFeeds = false;
  #rest = nothing;

  /** @throws RecordingError where the options contradict each other */
  constructor(name: string, options: ReadOptions) {
    this.#name = name;
    this.#options = options;
    this.#reader = new Reader({ ...options, name });
  }

  /** Bytes taken from the start of the file. */
  get taken(): number {
    return this.#taken;
  }

  /** Bytes behind the last whole line. */
  get rest(): Uint8Array {
    return this.#rest;
  }

  /** SHA-256 of the bytes taken, in hexadecimal. */
  get sha256(): string {
    return this.#hash.copy().digest('hex');
  }

  /** The first and the last bytes that were taken, at most 4096 of each. */
  get prints(): { readonly head: Uint8Array; readonly tail: Uint8Array } {
    return { head: this.#head, tail: this.#tail };
  }

  /**
   * Takes the whole lines of the bytes that follow what was taken; what is behind them becomes the rest.
   *
   * @param bytes as they follow in the file; the buffer may be used again afterwards
   * @returns how many bytes were taken
   * @throws RecordingError where it is no recording
   */
  lines(bytes: Uint8Array): number {
    if (this.#taken === 0 && isGzip(bytes)) {
      this.#mark(bytes);
      throw new RecordingError(
        'not-text',
        this.#name,
        null,
        'This is gzip data, which cannot be followed while they grow.',
        'Let the logger write plain text, or analyze the file when it is complete.',
      );
    }
    const length = this.#wholeLines(bytes);
    if (length > 0) this.all(bytes.subarray(0, length));
    this.#rest = bytes.slice(length);
    return length;
  }

  /** Takes bytes wherever they end. @throws RecordingError where it is no recording */
  all(bytes: Uint8Array): void {
    this.#mark(bytes);
    this.#reader.push(bytes);
  }

  #mark(bytes: Uint8Array): void {
    this.#rest = nothing;
    this.#hash.update(bytes);
    this.#taken += bytes.length;
    if (this.#head.length < printSize) this.#head = joined(this.#head, bytes).slice(0, printSize);
    this.#tail = joined(this.#tail, bytes.subarray(-printSize)).slice(-printSize);
  }

  /** How many of the bytes are whole lines. A wrong answer does no harm: the reader takes bytes however cut. */
  #wholeLines(bytes: Uint8Array): number {
    if (this.#encoding === null) {
      if (bytes.length < fewestForEncoding) return 0;
      this.#encoding = findEncoding(bytes.subarray(0, printSize), this.#options.encoding);
    }
    const { encoding } = this.#encoding;
    const wide = encoding === 'utf-16le' ? 0 : encoding === 'utf-16be' ? 1 : null;
    const width = wide === null ? 1 : 2;
    const lineFeed = lastUnit(bytes, 10, this.#taken, wide);
    if (lineFeed >= 0) {
      this.#lineFeeds = true;
      return lineFeed + width;
    }
    if (this.#lineFeeds) return 0;
    // Behind a CR at the end, an LF may still come.
    const carriageReturn = lastUnit(bytes.subarray(0, -width), 13, this.#taken, wide);
    return carriageReturn < 0 ? 0 : carriageReturn + width;
  }

  /**
   * The recording up to its last whole line, or with the rest behind it as if the file ended there.
   *
   * @throws RecordingError where what is there so far cannot be read
   */
  recording(path: string, withRest: boolean): RecordingFile {
    const rest = withRest ? this.#rest : nothing;
    const sha256 = this.#hash.copy().update(rest).digest('hex');
    return recordingFile(this.#reader.look(rest), { path, sha256, bytes: this.#taken + rest.length }, false);
  }

  /** The recording up to its last whole line in at most that many blocks. @throws RecordingError */
  coarse(most: number): Recording {
    return this.#reader.coarse(most);
  }
}

/**
 * Where a character was last.
 *
 * @param offset bytes of the file before them
 * @param wide whether the low byte of a UTF-16 character comes first (0) or second (1); null for single bytes
 * @returns index of its first byte, or -1
 */
function lastUnit(bytes: Uint8Array, code: number, offset: number, wide: 0 | 1 | null): number {
  if (wide === null) return bytes.lastIndexOf(code);
  for (let at = bytes.lastIndexOf(code); at >= 0; at = at === 0 ? -1 : bytes.lastIndexOf(code, at - 1)) {
    const start = at - wide;
    if ((offset + start) % 2 === 0 && bytes[start + 1 - wide] === 0) return start;
  }
  return -1;
}

function joined(a: Uint8Array, b: Uint8Array): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
