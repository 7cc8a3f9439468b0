import { createHash } from 'node:crypto';
import { isSystemError, type OpenFile, openFile, readAt, readPieces, saysGone, unreadable } from './disk.ts';
import { RecordingError } from './error.ts';
import { Intake } from './intake.ts';
import type { ReadOptions } from './options.ts';
import type { RecordingFile } from './samples.ts';
import { longestLine } from './text.ts';
import type { Recording } from './types.ts';

/** What looking at a followed file once more brought. */
export type Poll =
  | {
      readonly kind: 'unchanged' | 'grown';
      /** Of the file, bytes. */
      readonly size: number;
      /** Whether there is more to read at once. */
      readonly more: boolean;
    }
  | {
      /** It is not what it was: reading began anew, with what is there now. */
      readonly kind: 'restarted';
      readonly why: 'truncated' | 'replaced' | 'rewritten';
      readonly size: number;
      readonly more: boolean;
    }
  /** What was read so far is kept: the file may come back, or be let go of, and is then read on. */
  | { readonly kind: 'gone' | 'locked'; readonly error: RecordingError }
  /** It is no recording that can be followed, until other content takes its place. */
  | { readonly kind: 'refused'; readonly error: RecordingError };

/** A recording that is read while it grows. */
export interface FollowedFile {
  readonly path: string;
  /** Reads what is new, at most 32 MiB of it. Never rejects for what may happen to a file. */
  poll(): Promise<Poll>;
  /**
   * The recording so far, the same to the last digit as if a file with these bytes were read as a whole.
   *
   * @param end `line`: up to the last whole line; `file`: with what stands behind it, as if no more came
   * @throws RecordingError where what is there so far cannot be read, as long as there are fewer than two rows
   */
  recording(end?: 'line' | 'file'): RecordingFile;
  /**
   * The recording up to the last whole line, its blocks merged on a coarser grid: cheap, to be asked for often.
   *
   * @param most blocks, at least 2
   * @throws RecordingError as `recording`
   */
  coarse(most: number): Recording;
  /** Lets go of the file when a reading that goes on is over. */
  close(): Promise<void>;
}

const pieceSize = 1 << 20;
/** A long file is caught up with in steps, so that others are not kept waiting. */
const mostAtOnce = 1 << 25;

/**
 * Follows a file that a logger appends to. Nothing is held open between two readings: the logger may rename,
 * replace or lock the file, and a share may go away and come back. What a file is, its first and last bytes say;
 * number and time of the file are only a reason to compare all of it.
 *
 * @param path of the file, which need not be there yet
 * @param options what the caller knows better than the file; the name is the path if none is given
 * @param open opens the file for reading
 * @throws RecordingError where the options contradict each other
 */
export function followRecording(
  path: string,
  options: ReadOptions = {},
  open: (path: string, name: string) => Promise<OpenFile> = openFile,
): FollowedFile {
  return new Follower(path, options, open);
}

/** How the system knows a file. */
interface Marks {
  readonly device: number;
  readonly number: number;
  readonly changed: number;
  readonly size: number;
}

class Follower implements FollowedFile {
  readonly path: string;
  readonly #name: string;
  readonly #options: ReadOptions;
  readonly #open: (path: string, name: string) => Promise<OpenFile>;
  #intake: Intake;
  #refusal: RecordingError | null = null;
  #marks: Marks | null = null;
  /** A logger that saves the whole file anew each time, or a share that numbers files as it likes, ends this. */
  #numberTells = true;
  #polling: Promise<Poll> | null = null;
  #closed = false;

  constructor(path: string, options: ReadOptions, open: (path: string, name: string) => Promise<OpenFile>) {
    this.path = path;
    this.#name = options.name ?? path;
    this.#options = options;
    this.#open = open;
    this.#intake = new Intake(this.#name, options);
  }

  poll(): Promise<Poll> {
    if (this.#closed) throw new TypeError('The file is no longer followed.');
    this.#polling ??= this.#look().finally(() => {
      this.#polling = null;
    });
    return this.#polling;
  }

  recording(end: 'line' | 'file' = 'line'): RecordingFile {
    if (this.#refusal !== null) throw this.#refusal;
    return this.#intake.recording(this.path, end === 'file');
  }

  coarse(most: number): Recording {
    if (this.#refusal !== null) throw this.#refusal;
    return this.#intake.coarse(most);
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.#polling;
  }

  async #look(): Promise<Poll> {
    try {
      const handle = await this.#open(this.path, this.#name);
      try {
        return await this.#compare(handle);
      } finally {
        await handle.close();
      }
    } catch (error) {
      return this.#trouble(error);
    }
  }

  #trouble(error: unknown): Poll {
    const cause = error instanceof RecordingError ? error.cause : error;
    if (error instanceof RecordingError && cause === undefined) return { kind: 'refused', error };
    if (!isSystemError(cause)) throw error;
    return { kind: saysGone(cause) ? 'gone' : 'locked', error: unreadable(cause, this.#name) };
  }

  async #compare(handle: OpenFile): Promise<Poll> {
    const found = await handle.stat();
    const marks: Marks = {
      device: found.dev,
      number: found.ino,
      changed: found.mtimeMs,
      size: found.size,
    };
    const before = this.#marks;
    let why = await this.#departure(handle, marks);
    if (why !== null) this.#restart();
    let { taken, more } = await this.#read(handle, marks.size);
    const touched = before !== null && before.size === marks.size && before.changed !== marks.changed;
    if (why === null && taken === 0 && touched && !(await this.#isSame(handle))) {
      why = 'rewritten';
      this.#restart();
      ({ taken, more } = await this.#read(handle, marks.size));
    }
    this.#marks = marks;
    if (this.#refusal !== null) return { kind: 'refused', error: this.#refusal };
    const { size } = marks;
    if (why !== null) return { kind: 'restarted', why, size, more };
    return { kind: taken > 0 || size > (before?.size ?? 0) ? 'grown' : 'unchanged', size, more };
  }

  #restart(): void {
    this.#intake = new Intake(this.#name, this.#options);
    this.#refusal = null;
  }

  /** Why the file is not the one that was read; null where it is. */
  async #departure(handle: OpenFile, marks: Marks): Promise<'truncated' | 'replaced' | 'rewritten' | null> {
    const { taken, prints } = this.#intake;
    if (taken === 0) return null;
    if (marks.size < taken) return 'truncated';
    const before = this.#marks;
    const other = before !== null && (before.number !== marks.number || before.device !== marks.device);
    const head = await readAt(handle, 0, prints.head.length);
    const tail = await readAt(handle, taken - prints.tail.length, prints.tail.length);
    if (!equal(head, prints.head) || !equal(tail, prints.tail)) return other ? 'replaced' : 'rewritten';
    if (!other || !this.#numberTells) return null;
    if (!(await this.#isSame(handle))) return 'replaced';
    this.#numberTells = false;
    return null;
  }

  /** Whether all that was taken still stands in the file. */
  async #isSame(handle: OpenFile): Promise<boolean> {
    const hash = createHash('sha256');
    let left = this.#intake.taken;
    if (left === 0) return true;
    await readPieces(handle, 0, (piece) => {
      const part = piece.subarray(0, left);
      hash.update(part);
      left -= part.length;
      return left > 0;
    });
    return hash.digest('hex') === this.#intake.sha256;
  }

  /** Reads on. @returns bytes taken, and whether more are there */
  async #read(handle: OpenFile, size: number): Promise<{ taken: number; more: boolean }> {
    const start = this.#intake.taken;
    let more = false;
    try {
      while (this.#refusal === null && this.#intake.taken < size && !more) {
        if (await this.#readPiece(handle, size)) break;
        more = this.#intake.taken - start >= mostAtOnce;
      }
    } catch (error) {
      if (!(error instanceof RecordingError)) throw error;
      this.#refusal = error;
    }
    return { taken: this.#intake.taken - start, more };
  }

  /** @returns whether that was all for now */
  async #readPiece(handle: OpenFile, size: number): Promise<boolean> {
    const intake = this.#intake;
    const { taken } = intake;
    const piece = await readAt(handle, taken, Math.min(pieceSize, size - taken));
    const last = taken + piece.length >= size || piece.length === 0;
    if (intake.lines(piece) > 0 || last) return last;
    // So long a stretch without a line is no recording, or room that the logger keeps and will fill.
    if (isBlank(piece.subarray(longestLine)) && isBlank(await readAt(handle, size - lookedAt, lookedAt)))
      return true;
    intake.all(piece);
    return false;
  }
}

/** Bytes at the end of a file that say whether it ends in nothing but NUL. */
const lookedAt = 4096;

function isBlank(bytes: Uint8Array): boolean {
  return bytes.every((byte) => byte === 0);
}

function equal(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}
