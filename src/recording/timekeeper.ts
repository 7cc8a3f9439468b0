import type { Tally } from './tally.ts';
import type { TimePlan } from './timeplan.ts';

/** `place` answers with one of these instead of a time: the row is dropped. */
export const outOfOrder = -1;
/** `place` answers with this instead of a time: a new part of the recording begins with this row, at 0 s. */
export const restarted = -2;

const hour = 3600;
const day = 86400;

/** Turns the raw times of rows into seconds from the first row of their part, and straightens clocks. */
export class Timekeeper {
  readonly #plan: TimePlan;
  /** Steps strictly between these are ordinary. */
  readonly #low: number;
  readonly #high: number;
  readonly #gapFrom: number;
  #origin = Number.NaN;
  #previous = Number.NaN;
  #headerSeen = false;

  constructor(plan: TimePlan) {
    this.#plan = plan;
    const slack = 0.3 * plan.step + 1.01 * plan.resolution;
    this.#low = Math.max(0, plan.step - slack);
    this.#high = plan.step + slack;
    this.#gapFrom = 1.5 * plan.step + 1.01 * plan.resolution;
  }

  clone(): Timekeeper {
    const copy = new Timekeeper(this.#plan);
    copy.#origin = this.#origin;
    copy.#previous = this.#previous;
    copy.#headerSeen = this.#headerSeen;
    return copy;
  }

  /** Says that a header stood among the numbers: if time does not simply go on behind it, a part begins. */
  announceHeader(): void {
    this.#headerSeen = true;
  }

  /** Time of the latest row, s from the first of its part. */
  get latest(): number {
    return this.#seconds(this.#previous);
  }

  /**
   * @param raw raw time of the row, finite
   * @param line line of the row, for the tally
   * @returns s from the first row of the part, or `outOfOrder` or `restarted`
   */
  place(raw: number, line: number, tally: Tally): number {
    const step = raw - this.#previous;
    if (step > this.#low && step < this.#high && !this.#headerSeen) {
      this.#previous = raw;
      return ((raw - this.#origin) * this.#plan.times) / this.#plan.over;
    }
    return this.#irregular(raw, step, line, tally);
  }

  /**
   * Places rows as long as their steps are ordinary.
   *
   * @param raws raw times, row by row, `width` numbers each
   * @param column where in a row it stands
   * @param times receives s from the first row of the part, row by row
   * @returns the first row that `place` has to judge, at most `to`
   */
  placeRun(
    raws: Float64Array,
    width: number,
    column: number,
    from: number,
    to: number,
    times: Float64Array,
  ): number {
    if (this.#headerSeen) return from;
    const low = this.#low;
    const high = this.#high;
    const origin = this.#origin;
    const factor = this.#plan.times;
    const over = this.#plan.over;
    let previous = this.#previous;
    let row = from;
    while (row < to) {
      const raw = raws[row * width + column] ?? Number.NaN;
      const step = raw - previous;
      if (!(step > low && step < high)) break;
      times[row++] = ((raw - origin) * factor) / over;
      previous = raw;
    }
    this.#previous = previous;
    return row;
  }

  #seconds(raw: number): number {
    return ((raw - this.#origin) * this.#plan.times) / this.#plan.over;
  }

  #irregular(raw: number, rawStep: number, line: number, tally: Tally): number {
    if (Number.isNaN(this.#origin)) {
      this.#headerSeen = false;
      this.#origin = raw;
      this.#previous = raw;
      return 0;
    }
    const before = this.latest;
    const step = this.#straightened(rawStep, line, tally);
    if (this.#headerSeen) {
      this.#headerSeen = false;
      // Some loggers print their header once a page: then time simply goes on.
      if (this.#plan.cells.kind === 'rows' || step < 0 || step > 3 * this.#plan.step)
        return this.#restart(raw);
    }
    if (step < 0) return this.#backwards(raw, step, line, tally);
    if (step === 0 && !this.#plan.spread) tally.repair('repeated', line);
    else if (step > this.#gapFrom) tally.gap(before, (step * this.#plan.times) / this.#plan.over, line);
    else if (step <= this.#low || step >= this.#high) tally.uneven++;
    this.#previous = raw;
    return this.#seconds(raw);
  }

  /** Takes midnight, the change of the hour and a counter's roll-over out of a step, by moving the origin. */
  #straightened(step: number, line: number, tally: Tally): number {
    const { clock, step: usual } = this.#plan;
    if (step < 0) {
      // Only what continues within a few steps is a roll-over: a restart comes at any reading of the counter.
      const over = this.#plan.rollOvers.find((size) => step + size > 0 && step + size < 10 * usual);
      if (over !== undefined) {
        tally.repair(over === hour ? 'full hour' : 'rolled over', line);
        this.#origin -= over;
        return step + over;
      }
    }
    const near = this.#gapFrom;
    if (clock === 'midnight' && step < -day / 2) {
      tally.repair('midnight', line);
      this.#origin -= day;
      return step + day;
    }
    if (clock !== 'daylight-saving') return step;
    if (Math.abs(step - usual - hour) < near && usual < hour / 4) {
      tally.repair('clock put forward', line);
      this.#origin += hour;
      return step - hour;
    }
    if (Math.abs(step - usual + hour) < near && usual < hour / 4) {
      tally.repair('clock put back', line);
      this.#origin -= hour;
      return step + hour;
    }
    return step;
  }

  #backwards(raw: number, step: number, line: number, tally: Tally): number {
    // A few late rows are out of order; anything more is a clock that was set, or a logger that began again.
    const fromStart = this.#plan.clock === 'none' && raw <= this.#origin;
    if (-step <= 10 * this.#plan.step && !fromStart) {
      tally.lose('out of order', line);
      return outOfOrder;
    }
    if (this.#plan.clock === 'none') return this.#restart(raw);
    tally.repair('ran backwards', line);
    this.#origin += step - this.#plan.step;
    this.#previous = raw;
    return this.#seconds(raw);
  }

  #restart(raw: number): number {
    this.#origin = raw;
    this.#previous = raw;
    return restarted;
  }
}
