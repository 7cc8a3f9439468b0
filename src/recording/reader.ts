import type { Remark } from '../remark/index.ts';
import { isoMoment } from './clock.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { type ChosenPart, Parts, type Sink } from './parts.ts';
import { type Plan, planReading, planRowsShown } from './plan.ts';
import { type Checkpoint, RowParser } from './rowparser.ts';
import { findEncoding, headBytes, lineDecoder, requireText } from './text.ts';
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

interface Running {
  readonly plan: Plan;
  readonly parts: Parts;
  readonly parser: RowParser;
  readonly feed: (bytes: Uint8Array) => void;
}

const nothing = new Uint8Array(0);

/** The reader behind `createReader`; the file readers ask it for checkpoints as well. */
export class Reader implements RecordingReader {
  readonly #options: ReadOptions;
  #head = new Uint8Array(4096);
  #headLength = 0;
  #running: Running | null = null;
  #finished = false;

  constructor(options: ReadOptions) {
    checkOptions(options);
    this.#options = options;
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
   * @param most blocks of the recording, at least 2; without it, as many as are kept
   * @throws RecordingError where what is there so far cannot be read
   */
  look(rest: Uint8Array, most?: number): Read {
    if (this.#running === null) {
      const other = new Reader(this.#options);
      other.push(this.#head.subarray(0, this.#headLength));
      other.push(rest);
      return other.end(most);
    }
    const { plan, parts, parser } = this.#running;
    // Without a line that waits for its end, there is nothing to finish and no copy to make.
    if (rest.length === 0 && parser.settled) return this.#read(this.#running, most);
    const sink = parts.clone();
    const copy = parser.clone(sink);
    if (rest.length > 0) copy.push(transcoder(plan.dialect.encoding)(rest));
    copy.finish();
    return this.#read({ plan, parts: sink, parser: copy }, most);
  }

  /**
   * Ends the file.
   *
   * @param most as for `look`
   * @throws RecordingError
   */
  end(most?: number): Read {
    if (this.#finished) throw new TypeError('The recording is finished already.');
    const running = this.#running ?? this.#start(true);
    this.#finished = true;
    running.parser.finish();
    return this.#read(running, most);
  }

  #read({ plan, parts, parser }: Omit<Running, 'feed'>, most?: number): Read {
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

  #start(complete: boolean) {
    const name = this.#options.name ?? 'recording';
    const raw = this.#head.subarray(0, this.#headLength);
    const encoding = findEncoding(raw, this.#options.encoding);
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
    const plan = planReading(head, complete, encoding, decode, this.#options);
    const { companions } = plan.choice;
    const parts = new Parts(plan.time.samplePeriod, companions.length, this.#options.segment ?? null);
    const parser = new RowParser(plan, parts);
    parser.push(head);
    this.#running = { plan, parts, parser, feed: (bytes) => parser.push(transcode(bytes)) };
    this.#head = new Uint8Array(0);
    return this.#running;
  }
}

/** UTF-16 is read as UTF-8, piece by piece; the other encodings are read as they are. */
export function transcoder(encoding: Recording['dialect']['encoding']): (bytes: Uint8Array) => Uint8Array {
  if (encoding !== 'utf-16le' && encoding !== 'utf-16be') return (bytes) => bytes;
  const decoder = new TextDecoder(encoding, { ignoreBOM: true });
  const encoder = new TextEncoder();
  return (bytes) => encoder.encode(decoder.decode(bytes, { stream: true }));
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
  interrupt(): void {}
  overload(): void {}
}

function checkOptions(options: ReadOptions): void {
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

function choose(plan: Plan, parts: Parts, options: ReadOptions): ChosenPart {
  const chosen = parts.choose();
  const line = plan.dialect.firstDataLine;
  if (chosen === null) {
    throw new RecordingError(
      'segment-unknown',
      plan.name,
      null,
      `There is no part ${options.segment} in it; the logger began ${parts.count === 1 ? 'once' : `${parts.count} times`}.`,
      `Give --part a number up to ${parts.count}, or leave it out to take the longest part.`,
    );
  }
  if (chosen.part.samples < 2) {
    throw new RecordingError(
      'no-numbers',
      plan.name,
      line,
      `Column ${plan.choice.channel.column} ("${plan.choice.channel.name}") has ${chosen.part.samples === 0 ? 'no usable sample' : 'only one usable sample'}.`,
      'Name another column with --channel, or repeat the recording.',
      planRowsShown(plan),
    );
  }
  return chosen;
}

function describe(plan: Plan, chosen: ChosenPart, most?: number): Recording {
  const { part } = chosen;
  const { time, choice } = plan;
  const blocks = part.blocks(most);
  const rate = 1 / time.samplePeriod;
  return {
    name: plan.name,
    samples: part.samples,
    rate,
    duration: part.duration,
    startedAt: startOf(plan, chosen),
    channel: choice.channel,
    channels: choice.channels,
    blocks: blocks.own,
    companions: choice.companions.map((channel, i) => ({
      channel,
      blocks: blocks.companions[i] ?? blocks.own,
    })),
    opening: part.opening,
    dialect: plan.dialect,
    preamble: plan.preamble,
    remarks: [
      ...plan.remarks,
      ...partRemarks(chosen),
      ...part.tally.remarks(part.samples, part.duration, rate),
    ],
  };
}

function startOf(plan: Plan, { part, number }: ChosenPart): string | null {
  const { cells, zone, startedAt } = plan.time;
  if (cells.kind === 'clock' && cells.date !== null) {
    return isoMoment(cells.firstDay, part.firstRaw + part.firstTime + (zone ?? 0), zone);
  }
  return number === 1 ? startedAt : null;
}

function partRemarks({ part, number, count, listed }: ChosenPart): Remark[] {
  if (count < 2) return [];
  const list = listed.map(({ line, duration }) => `line ${line} (${Number(duration.toPrecision(4))} s)`);
  return [
    {
      code: 'header-repeated',
      severity: 'caution',
      message: `The logger began ${count} times: ${list.join(', ')}${count > listed.length ? ' and more' : ''}; part ${number} from line ${part.firstLine} was taken${number === count ? '' : `, ${count - number} more follow`}.`,
      action: `Without --part the longest part is taken; choose one with --part 1 to ${count}.`,
    },
  ];
}
