import { missing, type Sink } from './parts.ts';
import { outOfOrder, restarted, type Timekeeper } from './timekeeper.ts';
import type { TimePlan } from './timeplan.ts';

/** Most samples that wait for the next time stamp. */
const patience = 1 << 17;

/** Spreads samples that share a time stamp evenly up to the next stamp. */
export class Spreader {
  readonly #period: number;
  readonly #usual: number;
  readonly #width: number;
  #stamp = Number.NaN;
  #time = 0;
  #count = 0;
  #first = true;
  /** What the times of this part are early by, because its first stamp was not seen whole, s. */
  #shift = 0;
  #last = 0;
  #values = new Float64Array(64);

  /** @param width values in a row: the channel and its companions */
  constructor(plan: TimePlan, width: number) {
    this.#period = plan.samplePeriod;
    this.#usual = (plan.step * plan.times) / plan.over;
    this.#width = width;
  }

  clone(plan: TimePlan): Spreader {
    const copy = new Spreader(plan, this.#width);
    copy.#stamp = this.#stamp;
    copy.#time = this.#time;
    copy.#count = this.#count;
    copy.#first = this.#first;
    copy.#shift = this.#shift;
    copy.#last = this.#last;
    copy.#values = this.#values.slice(0, Math.max(64, this.#count * this.#width));
    return copy;
  }

  /** Whether no more than the sample just taken waits. */
  get fresh(): boolean {
    return this.#count <= 1;
  }

  /** Whether nothing waits. */
  get empty(): boolean {
    return this.#count === 0;
  }

  /**
   * @param raw raw time of the row
   * @param values the row's values, not-a-number where there is none, `overloaded` for an overload mark
   * @returns whether a part of the recording begins with the row
   */
  row(raw: number, values: Float64Array, line: number, keeper: Timekeeper, sink: Sink): boolean {
    let begins = false;
    if (raw !== this.#stamp) {
      const time = keeper.place(raw, line, sink.tally);
      if (time === outOfOrder) return false;
      begins = time === restarted || Number.isNaN(this.#stamp);
      if (begins) {
        this.flush(null, sink);
        sink.begin(line, raw);
        this.#first = true;
        this.#shift = 0;
        this.#last = 0;
        this.#time = 0;
      } else if (time > this.#time) {
        this.flush(time, sink);
        this.#time = time;
      }
      // Otherwise a clock was put forward or back within a stamp, which goes on.
      this.#stamp = raw;
    } else if (this.#count === patience) this.flush(null, sink);
    this.#push(values);
    return begins;
  }

  #push(values: Float64Array): void {
    const at = this.#count * this.#width;
    if (at + this.#width > this.#values.length) {
      const larger = new Float64Array(2 * this.#values.length + this.#width);
      larger.set(this.#values);
      this.#values = larger;
    }
    for (let i = 0; i < this.#width; i++) this.#values[at + i] = values[i] ?? Number.NaN;
    this.#count++;
  }

  /** Passes the waiting samples on. @param next time of the next stamp, s, or null if there is none */
  flush(next: number | null, sink: Sink): void {
    const count = this.#count;
    if (count === 0) return;
    const step = next === null ? null : next - this.#time;
    let spacing = this.#period;
    let start = this.#time;
    if (step !== null && step < 1.5 * this.#usual) {
      // A first stamp that was joined half way has its samples at its end.
      if (this.#first && count * spacing < step) {
        start += step - count * spacing;
        this.#shift = start;
      } else spacing = step / count;
    }
    for (let j = 0; j < count; j++) {
      const time = Math.max(this.#last, start - this.#shift + j * spacing);
      this.#last = time;
      this.#emit(j, time, sink);
    }
    this.#time += count * spacing;
    this.#count = 0;
    this.#first = false;
  }

  #emit(j: number, time: number, sink: Sink): void {
    const at = j * this.#width;
    const value = this.#values[at] ?? Number.NaN;
    if (Number.isFinite(value)) sink.add(time, value);
    else missing(time, value, sink);
    for (let i = 1; i < this.#width; i++) {
      const other = this.#values[at + i] ?? Number.NaN;
      if (Number.isFinite(other)) sink.addCompanion(i - 1, time, other);
    }
  }
}
