import { type PlainForm, PlainRows, rowsAtOnce } from './plainrows.ts';
import type { Plan } from './plan.ts';
import type { Run } from './run.ts';
import type { Timekeeper } from './timekeeper.ts';

/** Plain rows on their way from bytes to moments. */
export class PlainRun {
  /** How the rows are written. */
  readonly form: PlainForm;
  readonly rows: PlainRows;
  /** The rows that were placed latest. */
  readonly run: Run;
  /** Raw times, where they do not stand in the rows. */
  readonly #numbers: Float64Array | null;
  /** Where in a row the time stands. */
  readonly #time: number;

  /**
   * @param values columns of the readings, counted from 0
   * @param time column of the time, counted from 0; -1 where rows are counted
   */
  constructor(plan: Plan, values: readonly number[], time: number) {
    const columns = [...new Set([...values, time])].filter((column) => column >= 0).sort((a, b) => a - b);
    const { fields, delimiter, decimal } = plan.style;
    this.form = { style: { fields, delimiter, decimal }, lineEnd: plan.lineEnd, columns };
    this.rows = new PlainRows(this.form);
    this.#time = columns.indexOf(time);
    this.#numbers = time < 0 ? new Float64Array(rowsAtOnce) : null;
    this.run = {
      times: new Float64Array(rowsAtOnce),
      cells: this.rows.cells,
      width: this.rows.width,
      values: values.map((column) => columns.indexOf(column)),
      from: 0,
      to: 0,
    };
  }

  /** Gives the rows their numbers as raw times. @param first number of the first */
  number(first: number): void {
    const numbers = this.#numbers;
    if (numbers === null) return;
    for (let i = 0; i < this.rows.count; i++) numbers[i] = first + i;
  }

  /**
   * Places rows as long as their steps are ordinary; they become the run.
   *
   * @returns the first row that has to be judged by itself
   */
  place(keeper: Timekeeper, from: number): number {
    const { run } = this;
    run.from = from;
    run.to =
      this.#numbers === null
        ? keeper.placeRun(run.cells, run.width, this.#time, from, this.rows.count, run.times)
        : keeper.placeRun(this.#numbers, 1, 0, from, this.rows.count, run.times);
    return run.to;
  }

  /** Raw time of a row. */
  raw(row: number): number {
    const { cells, width } = this.run;
    return this.#numbers?.[row] ?? cells[row * width + this.#time] ?? Number.NaN;
  }

  /** Copies the readings of a row. */
  values(row: number, into: Float64Array): void {
    const { cells, width, values } = this.run;
    for (const [k, place] of values.entries()) into[k] = cells[row * width + place] ?? Number.NaN;
  }
}
