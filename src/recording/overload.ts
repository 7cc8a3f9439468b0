import type { Remark } from '../remark/index.ts';

/** More overload marks in a row than this are no bursts of interference: the input was out of range. */
const mostByChance = 5;

interface Run {
  /** Marks in the run. */
  readonly count: number;
  /** Times of the first and the last mark, s from the first usable sample. */
  readonly from: number;
  readonly to: number;
  /** Usable samples before it. */
  readonly samples: number;
}

/** Follows the overload marks of one part of a recording that stand with no usable sample between them. */
export class OverloadRuns {
  #current: Run | null = null;
  /** Of the runs that are over, the longest that is long enough, and what there was of those in all. */
  #longest: Run | null = null;
  #runs = 0;
  #marks = 0;

  clone(): OverloadRuns {
    const copy = new OverloadRuns();
    copy.#current = this.#current;
    copy.#longest = this.#longest;
    copy.#runs = this.#runs;
    copy.#marks = this.#marks;
    return copy;
  }

  /**
   * @param time of the mark, s from the first usable sample
   * @param samples usable samples so far
   */
  add(time: number, samples: number): void {
    const run = this.#current;
    if (run !== null && run.samples === samples) {
      this.#current = { ...run, count: run.count + 1, to: time };
      return;
    }
    this.#end();
    this.#current = { count: 1, from: time, to: time, samples };
  }

  #end(): void {
    const run = this.#current;
    if (run === null || run.count <= mostByChance) return;
    this.#runs++;
    this.#marks += run.count;
    if (this.#longest === null || run.count > this.#longest.count) this.#longest = run;
  }

  /** `clipped` where marks stand in long runs, the current one among them; adding may go on afterwards. */
  remarks(): Remark[] {
    const ended = this.clone();
    ended.#end();
    return ended.#endedRemarks();
  }

  #endedRemarks(): Remark[] {
    const longest = this.#longest;
    if (longest === null) return [];
    const where =
      longest.samples === 0
        ? 'before the first usable sample'
        : `from ${Number(longest.from.toPrecision(5))} to ${Number(longest.to.toPrecision(5))} s`;
    const marks =
      this.#runs === 1
        ? `${longest.count} overload marks in a row`
        : `${this.#marks} overload marks in ${this.#runs} runs, the longest of ${longest.count}`;
    return [
      {
        code: 'clipped',
        severity: 'caution',
        message: `The signal left the range of the logger: ${marks} ${where}.`,
        action: 'Choose a wider input range or a smaller gain; if the sensor was open there, mend its leads.',
        at: { from: longest.from, to: longest.to },
      },
    ];
  }
}
