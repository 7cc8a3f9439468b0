import type { Checkpoint } from './checkpoints.ts';
import { choose, describe } from './described.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import type { Sink } from './parts.ts';
import type { PlainForm } from './plainrows.ts';
import type { Plan } from './plan.ts';
import type { Run } from './run.ts';
import { type Running, startReading, type Tap, transcoder } from './running.ts';
import type { SharedPiece } from './shared-piece.ts';
import { headBytes } from './text.ts';
import type { Recording } from './types.ts';

/** Takes a text recording piece by piece. How it is cut into pieces changes nothing. */
export interface RecordingReader {
  /**
   * Takes the next bytes; the buffer may be used again afterwards.
   *
   * @throws RecordingError
   */
  push(bytes: Uint8Array): void;
  /**
   * The recording as if the file ended here; reading may go on.
   *
   * @throws RecordingError where what is there so far cannot be read
   */
  snapshot(): Recording;
  /**
   * Ends the file.
   *
   * @throws RecordingError
   */
  finish(): Recording;
}

/**
 * Begins to read a text recording, whole or still growing. Delimiter, marks, header, time and channel are
 * understood from its first 256 KiB, or from all of it if it is shorter.
 */
export function createReader(options: ReadOptions = {}): RecordingReader {
  return new Reader(options);
}

/** What is needed to read a stretch of a recording once more. */
export interface Retrace {
  readonly plan: Plan;
  readonly checkpoints: readonly Checkpoint[];
  /** Number of the chosen part, counted from 1. */
  readonly part: number;
  /** Time of the first usable sample, s from the first row of the part. */
  readonly firstTime: number;
}

/** A recording, and how to read a stretch of it once more. */
export interface Read {
  readonly recording: Recording;
  readonly retrace: Retrace;
}

const nothing = new Uint8Array(0);
/** A file shorter than this is quick to understand anew, bytes. */
const soonAgain = 1 << 12;

/** The reader behind `createReader`; the file readers ask it for checkpoints as well. */
export class Reader implements RecordingReader {
  readonly #options: ReadOptions;
  readonly #tap: Tap | undefined;
  #head = new Uint8Array(4096);
  #headLength = 0;
  #running: Running | null = null;
  /** For the coarse view, until there is enough to understand the file for good. */
  #early: { readonly from: number; fed: number; readonly running: Running } | null = null;
  #finished = false;

  /** @param tap what the rows pass on their way; nothing where left out */
  constructor(options: ReadOptions, tap?: Tap) {
    checkOptions(options);
    this.#options = options;
    this.#tap = tap;
  }

  push(bytes: Uint8Array): void {
    if (this.#finished) throw new TypeError('The recording is finished; nothing can be added to it.');
    if (this.#running !== null) {
      this.#running.feed(bytes);
      return;
    }
    const taken = Math.min(bytes.length, headBytes - this.#headLength);
    this.#keepHead(bytes.subarray(0, taken));
    if (this.#headLength < headBytes) return;
    const running = this.#start(false);
    if (taken < bytes.length) running.feed(bytes.subarray(taken));
  }

  /** How the plainest rows are written, once the file is understood; null before, and where none is plain. */
  get plainForm(): PlainForm | null {
    return this.#running?.plainForm ?? null;
  }

  /** Takes the next bytes, of which plain rows were read before, by the form that `plainForm` gave. */
  pushRead(piece: SharedPiece): void {
    if (this.#finished || this.#running === null) throw new TypeError('Nothing reads this recording now.');
    piece.rewind();
    this.#running.parser.push(piece.bytes, piece);
  }

  snapshot(): Recording {
    return this.look(nothing).recording;
  }

  finish(): Recording {
    return this.end().recording;
  }

  /**
   * The recording as if the file ended here; reading may go on.
   *
   * @param rest further bytes to end it with; what was pushed must then end with a whole character
   * @throws RecordingError where what is there so far cannot be read
   */
  look(rest: Uint8Array): Read {
    if (this.#running === null) {
      const other = new Reader(this.#options);
      other.push(this.#head.subarray(0, this.#headLength));
      other.push(rest);
      return other.end();
    }
    return this.#asEnded(this.#running, rest);
  }

  /**
   * The recording so far in few blocks. Of a file that is still short, how it is written is understood anew only
   * when it has grown by a quarter, which `look` does every time.
   *
   * @param most blocks of the recording, at least 2
   * @throws RecordingError where what is there so far cannot be read
   */
  coarse(most: number): Recording {
    return this.#asEnded(this.#running ?? this.#understood(), nothing, most).recording;
  }

  #asEnded(running: Running, rest: Uint8Array, most?: number): Read {
    const { plan, parts, parser } = running;
    // Without a line that waits for its end, there is nothing to finish and no copy to make.
    if (rest.length === 0 && parser.settled) return this.#read(running, most);
    const sink = parts.clone();
    const copy = parser.clone(sink);
    if (rest.length > 0) copy.push(transcoder(plan.dialect.encoding)(rest));
    copy.finish();
    return this.#read({ plan, parts: sink, parser: copy }, most);
  }

  /**
   * Ends the file.
   *
   * @throws RecordingError
   */
  end(): Read {
    if (this.#finished) throw new TypeError('The recording is finished already.');
    const running = this.#running ?? this.#start(true);
    this.#finished = true;
    running.parser.finish();
    return this.#read(running);
  }

  #read({ plan, parts, parser }: Pick<Running, 'plan' | 'parts' | 'parser'>, most?: number): Read {
    const chosen = choose(plan, parts, this.#options);
    return {
      recording: describe(plan, chosen, most),
      retrace: {
        plan,
        checkpoints: [...parser.checkpoints],
        part: chosen.number,
        firstTime: chosen.part.firstTime,
      },
    };
  }

  #keepHead(bytes: Uint8Array): void {
    const length = this.#headLength + bytes.length;
    if (length > this.#head.length) {
      const larger = new Uint8Array(Math.min(headBytes, Math.max(length, 4 * this.#head.length)));
      larger.set(this.#head.subarray(0, this.#headLength));
      this.#head = larger;
    }
    this.#head.set(bytes, this.#headLength);
    this.#headLength = length;
  }

  #start(complete: boolean): Running {
    const running = startReading(
      this.#head.subarray(0, this.#headLength),
      complete,
      this.#options,
      this.#tap,
    );
    this.#running = running;
    this.#head = new Uint8Array(0);
    this.#early = null;
    return running;
  }

  /** How the file was understood from what was there of it a moment ago, with what came since. */
  #understood(): Running {
    const early = this.#early;
    if (early !== null && this.#headLength < 1.25 * early.from) {
      const fresh = this.#head.subarray(early.fed, this.#headLength);
      early.fed = this.#headLength;
      early.running.feed(fresh);
      return early.running;
    }
    const running = startReading(this.#head.subarray(0, this.#headLength), true, this.#options);
    if (this.#headLength >= soonAgain) {
      this.#early = { from: this.#headLength, fed: this.#headLength, running };
    }
    return running;
  }
}

/** Samples of a stretch, collected one by one. */
export class Collector implements Sink {
  readonly tally;
  readonly begin: Sink['begin'];
  readonly add: Sink['add'];
  constructor(tally: Sink['tally'], begin: Sink['begin'], add: Sink['add']) {
    this.tally = tally;
    this.begin = begin;
    this.add = add;
  }
  addCompanion(): void {}
  addRun({ times, cells, width, values: [own = 0], from, to }: Run): void {
    for (let i = from; i < to; i++) this.add(times[i] ?? 0, cells[i * width + own] ?? Number.NaN);
  }
  interrupt(): void {}
  overload(): void {}
}

/** @throws RecordingError where they contradict each other */
export function checkOptions(options: ReadOptions): void {
  const bad = (what: string, mend: string): never => {
    throw new RecordingError('option-invalid', options.name ?? 'recording', null, what, mend);
  };
  const { rate, segment, decimal, thousands, delimiter } = options;
  if (rate !== undefined && !(rate > 1e-9 && rate < 1e12))
    bad(`A rate of ${rate} Hz is not possible.`, 'Give --rate as "100 Hz" or "10 ms".');
  if (segment !== undefined && !(Number.isInteger(segment) && segment >= 1)) {
    bad(`There cannot be a part ${segment}.`, 'Count parts with --part from 1.');
  }
  if (decimal !== undefined && decimal === thousands) {
    bad('The decimal mark and the thousands mark cannot be the same.', 'Change --decimal or --thousands.');
  }
  if (thousands !== undefined && thousands !== null && thousands === delimiter) {
    bad('The thousands mark and the delimiter cannot be the same.', 'Change --thousands or --delimiter.');
  }
}
