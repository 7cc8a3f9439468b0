import { RecordingError } from './error.ts';
import { overloaded, type Sink } from './parts.ts';
import type { Run } from './run.ts';
import type { TallyState } from './tally.ts';

/** Rows of a recording as they were read, in order; the arrays run in parallel. */
export interface Rows {
  readonly length: number;
  /** Part of the recording that a row is of, counted from 1. */
  readonly part: Int32Array;
  /** s from the first row of the part; not-a-number where the row has no reading at all. */
  readonly time: Float64Array;
  /**
   * Readings: the channel first, then its companions. Not-a-number where there is none; in the channel, infinity for an
   * overload mark.
   */
  readonly values: readonly Float64Array[];
}

/** A stretch of a recording between two starts of the logger: where it began, and what was left out or repaired. */
export interface PartState {
  /** Line of its first row, counted from 1. */
  readonly line: number;
  /** Time of that row as it stands in the file. */
  readonly raw: number;
  readonly tally: TallyState;
}

const firstRoom = 1 << 12;

/** Passes everything on to another sink, and writes down the rows that come by. */
export class RowTap implements Sink {
  readonly #sink: Sink;
  readonly #parts: PartState[] = [];
  #open: Omit<PartState, 'tally'> | null = null;
  #length = 0;
  #part = new Int32Array(firstRoom);
  #time = new Float64Array(firstRoom);
  #values: Float64Array[];

  /** @param companions number of further channels */
  constructor(sink: Sink, companions: number) {
    this.#sink = sink;
    this.#values = Array.from({ length: companions + 1 }, () => new Float64Array(firstRoom));
  }

  get tally(): Sink['tally'] {
    return this.#sink.tally;
  }

  begin(line: number, raw: number): void {
    this.#close();
    this.#open = { line, raw };
    this.#sink.begin(line, raw);
  }

  add(time: number, value: number): void {
    this.#row(time, value);
    this.#sink.add(time, value);
  }

  addCompanion(index: number, time: number, value: number): void {
    const at = this.#length - 1;
    this.#time[at] = time;
    const values = this.#values[index + 1];
    if (values !== undefined) values[at] = value;
    this.#sink.addCompanion(index, time, value);
  }

  addRun(run: Run): void {
    const { times, cells, width, values, from, to } = run;
    for (let i = from; i < to; i++) {
      this.#row(times[i] ?? 0, cells[i * width + (values[0] ?? 0)] ?? Number.NaN);
      const at = this.#length - 1;
      for (let k = 1; k < values.length; k++) {
        const column = this.#values[k];
        if (column !== undefined) column[at] = cells[i * width + (values[k] ?? 0)] ?? Number.NaN;
      }
    }
    this.#sink.addRun(run);
  }

  interrupt(): void {
    this.#row(Number.NaN, Number.NaN);
    this.#sink.interrupt();
  }

  overload(time: number): void {
    const at = this.#length - 1;
    this.#time[at] = time;
    const [own] = this.#values;
    if (own !== undefined) own[at] = overloaded;
    this.#sink.overload(time);
  }

  /** The rows since the last time: in arrays that are used again, so that what comes next must wait until they are done with. */
  take(): Rows {
    const length = this.#length;
    this.#length = 0;
    return {
      length,
      part: this.#part.subarray(0, length),
      time: this.#time.subarray(0, length),
      values: this.#values.map((values) => values.subarray(0, length)),
    };
  }

  /** The parts, once the file has ended. */
  end(): readonly PartState[] {
    this.#close();
    return this.#parts;
  }

  /** What a part left out is complete when the next one begins. */
  #close(): void {
    if (this.#open !== null) this.#parts.push({ ...this.#open, tally: this.#sink.tally.state() });
    this.#open = null;
  }

  #row(time: number, value: number): void {
    if (this.#length === this.#time.length) this.#grow();
    const at = this.#length++;
    this.#part[at] = this.#parts.length + 1;
    this.#time[at] = time;
    this.#values.forEach((values, k) => {
      values[at] = k === 0 ? value : Number.NaN;
    });
  }

  #grow(): void {
    const size = 2 * this.#time.length;
    const larger = (values: Float64Array) => {
      const room = new Float64Array(size);
      room.set(values);
      return room;
    };
    const part = new Int32Array(size);
    part.set(this.#part);
    this.#part = part;
    this.#time = larger(this.#time);
    this.#values = this.#values.map(larger);
  }
}

/** Passes rows that were written down on to a sink, as if they were read anew. */
export class RowReplay {
  readonly #sink: Sink;
  readonly #name: string;
  readonly #parts: readonly PartState[];
  readonly #companions: readonly number[];
  #part = 0;
  #latest = 0;

  /**
   * @param name of the recording, for errors
   * @param companions which of the values of a row go on as companions, counted from 1
   */
  constructor(sink: Sink, name: string, parts: readonly PartState[], companions: readonly number[]) {
    this.#sink = sink;
    this.#name = name;
    this.#parts = parts;
    this.#companions = companions;
  }

  /** @throws RecordingError where they are no rows of a recording */
  push({ length, part, time, values }: Rows): void {
    const [own] = values;
    for (let i = 0; i < length; i++) {
      this.#reach(part[i] ?? 0);
      const at = time[i] ?? Number.NaN;
      if (at < this.#latest || at === Number.POSITIVE_INFINITY) throw this.#damaged('times run backwards');
      if (at > this.#latest) this.#latest = at;
      const value = own?.[i] ?? Number.NaN;
      if (Number.isFinite(value)) {
        if (Number.isNaN(at)) throw this.#damaged('a reading has no time');
        this.#sink.add(at, value);
      } else {
        this.#sink.interrupt();
        if (value === overloaded) this.#sink.overload(at);
      }
      for (let k = 0; k < this.#companions.length; k++) {
        const other = values[this.#companions[k] ?? 0]?.[i] ?? Number.NaN;
        if (Number.isFinite(other)) this.#sink.addCompanion(k, at, other);
      }
    }
  }

  /** @throws RecordingError where a part is missing */
  end(): void {
    if (this.#part !== this.#parts.length) throw this.#damaged('rows are missing at its end');
  }

  #reach(part: number): void {
    if (part === this.#part) return;
    const next = this.#parts[this.#part];
    if (part !== this.#part + 1 || next === undefined) throw this.#damaged('its parts are out of order');
    this.#part = part;
    this.#latest = 0;
    this.#sink.begin(next.line, next.raw);
    this.#sink.tally.restore(next.tally);
  }

  #damaged(what: string): RecordingError {
    return new RecordingError(
      'archive-damaged',
      this.#name,
      null,
      `The rows of this archive are not as they were written: ${what}.`,
      'Take the file from a backup, or archive the text again.',
    );
  }
}
