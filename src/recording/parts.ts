import { Part } from './part.ts';
import type { Run } from './run.ts';
import type { Tally } from './tally.ts';

/** What receives the rows of a recording, in order. */
export interface Sink {
  readonly tally: Tally;
  /** A part of the recording begins at this line. */
  begin(line: number, raw: number): void;
  add(time: number, value: number): void;
  addCompanion(index: number, time: number, value: number): void;
  /** As many calls of `add`, and then of `addCompanion` for every further value, with the rows of a run. */
  addRun(run: Run): void;
  /** A sample is missing here. */
  interrupt(): void;
  /** The sample that is missing at this time, s, is an overload mark. */
  overload(time: number): void;
}

/** Stands for an overload mark among the values of a row. */
export const overloaded = Number.POSITIVE_INFINITY;

/** Tells a sink that a row has no reading. @param time s @param value not-a-number or `overloaded` */
export function missing(time: number, value: number, sink: Sink): void {
  sink.interrupt();
  if (value === overloaded) sink.overload(time);
}

/** The part that was chosen, and what there was to choose from. */
export interface ChosenPart {
  readonly part: Part;
  /** Counted from 1. */
  readonly number: number;
  readonly count: number;
  /** First line and duration of the first parts, for the remark. */
  readonly listed: readonly { readonly line: number; readonly duration: number }[];
}

/** Parts that a remark lists. */
const listedParts = 8;

/** Collects the parts of a recording, but keeps no more than the chosen one and the latest. */
export class Parts implements Sink {
  readonly #samplePeriod: number;
  readonly #companions: number;
  readonly #wanted: number | null;
  #current: Part;
  #currentNumber = 1;
  #best: { part: Part; number: number } | null = null;
  #listed: { line: number; duration: number }[] = [];
  #started = false;

  /** @param wanted number of the part to take, counted from 1; null for the longest */
  constructor(samplePeriod: number, companions: number, wanted: number | null) {
    this.#samplePeriod = samplePeriod;
    this.#companions = companions;
    this.#wanted = wanted;
    this.#current = new Part(samplePeriod, companions, 1, 0);
  }

  clone(): Parts {
    const copy = new Parts(this.#samplePeriod, this.#companions, this.#wanted);
    copy.#current = this.#current.clone();
    copy.#currentNumber = this.#currentNumber;
    copy.#best = this.#best === null ? null : { part: this.#best.part.clone(), number: this.#best.number };
    copy.#listed = [...this.#listed];
    copy.#started = this.#started;
    return copy;
  }

  /** Parts so far. */
  get count(): number {
    return this.#currentNumber;
  }

  get tally(): Tally {
    return this.#current.tally;
  }

  begin(line: number, raw: number): void {
    if (this.#started) {
      const { best, listed } = this.#settled();
      this.#best = best;
      this.#listed = listed;
      this.#currentNumber++;
    }
    const { tally } = this.#current;
    const first = !this.#started;
    this.#started = true;
    this.#current = new Part(this.#samplePeriod, this.#companions, line, raw);
    // What was lost before the first usable row belongs to the first part.
    if (first) this.#current.tally = tally;
  }

  /** The best part and the list of parts if the current part ended here. */
  #settled() {
    const part = this.#current;
    const number = this.#currentNumber;
    const best = this.#best;
    const better =
      this.#wanted !== null ? number === this.#wanted : best === null || part.duration >= best.part.duration;
    return {
      best: better ? { part, number } : best,
      listed: [...this.#listed, { line: part.firstLine, duration: part.duration }].slice(0, listedParts),
    };
  }

  add(time: number, value: number): void {
    this.#current.add(time, value);
  }

  addCompanion(index: number, time: number, value: number): void {
    this.#current.addCompanion(index, time, value);
  }

  addRun(run: Run): void {
    this.#current.addRun(run);
  }

  interrupt(): void {
    this.#current.interrupt();
  }

  overload(time: number): void {
    this.#current.overload(time);
  }

  /** The chosen part so far; null where the part that was asked for is not there. Adding may go on. */
  choose(): ChosenPart | null {
    const { best, listed } = this.#settled();
    return best === null ? null : { ...best, count: this.#currentNumber, listed };
  }
}
