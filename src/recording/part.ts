import { BlockAssembler } from './blocks.ts';
import type { Run } from './run.ts';
import { Tally } from './tally.ts';

/** Most samples kept as they were. */
const openingCapacity = 1 << 16;
/** An even stretch of this length is enough; a shorter one makes room for the next. */
const openingEnough = 1 << 12;

/** One stretch of a recording between two starts of the logger. */
export class Part {
  readonly firstLine: number;
  readonly firstRaw: number;
  tally = new Tally();
  samples = 0;
  /** Time of the first and of the last usable sample, s. */
  firstTime = 0;
  lastTime = 0;
  #assembler: BlockAssembler;
  #companions: BlockAssembler[];
  #opening = new Float64Array(1024);
  #openingLength = 0;
  #openingDone = false;

  /**
   * @param samplePeriod s
   * @param companions number of further channels
   * @param firstLine line of its first row
   * @param firstRaw raw time of that row
   */
  constructor(samplePeriod: number, companions: number, firstLine: number, firstRaw: number) {
    this.firstLine = firstLine;
    this.firstRaw = firstRaw;
    this.#assembler = new BlockAssembler(samplePeriod);
    this.#companions = Array.from({ length: companions }, () => new BlockAssembler(samplePeriod));
  }

  clone(): Part {
    const copy = new Part(1, 0, this.firstLine, this.firstRaw);
    copy.tally = this.tally.clone();
    copy.samples = this.samples;
    copy.firstTime = this.firstTime;
    copy.lastTime = this.lastTime;
    copy.#assembler = this.#assembler.clone();
    copy.#companions = this.#companions.map((assembler) => assembler.clone());
    copy.#opening = this.#opening.slice();
    copy.#openingLength = this.#openingLength;
    copy.#openingDone = this.#openingDone;
    return copy;
  }

  get duration(): number {
    return this.samples === 0 ? 0 : this.lastTime - this.firstTime;
  }

  /** @param time s, not earlier than before; @param value finite */
  add(time: number, value: number): void {
    if (this.samples === 0) this.firstTime = time;
    this.samples++;
    this.lastTime = time;
    this.#assembler.add(time - this.firstTime, value);
    if (!this.#openingDone) this.#keep(value);
  }

  addCompanion(index: number, time: number, value: number): void {
    if (this.samples > 0) this.#companions[index]?.add(time - this.firstTime, value);
  }

  /** Adds the rows of a run, as `add` and `addCompanion` do one by one. */
  addRun(run: Run): void {
    const { times, cells, width, values, from, to } = run;
    if (this.samples === 0) this.firstTime = times[from] ?? 0;
    this.samples += to - from;
    this.lastTime = times[to - 1] ?? 0;
    const [own = 0, ...others] = values;
    this.#assembler.addRun(run, own, this.firstTime);
    others.forEach((place, k) => {
      this.#companions[k]?.addRun(run, place, this.firstTime);
    });
    for (let i = from; i < to && !this.#openingDone; i++) this.#keep(cells[i * width + own] ?? Number.NaN);
  }

  /** @param time of an overload mark, s, not earlier than before */
  overload(time: number): void {
    this.tally.overload(this.samples === 0 ? 0 : time - this.firstTime, this.samples);
  }

  /** Says that the next sample does not follow the last one at the usual distance. */
  interrupt(): void {
    if (this.#openingLength >= openingEnough) this.#openingDone = true;
    else if (!this.#openingDone) this.#openingLength = 0;
  }

  #keep(value: number): void {
    if (this.#openingLength === this.#opening.length) {
      const larger = new Float64Array(this.#opening.length * 4);
      larger.set(this.#opening);
      this.#opening = larger;
    }
    this.#opening[this.#openingLength++] = value;
    if (this.#openingLength === openingCapacity) this.#openingDone = true;
  }

  get opening(): Float64Array {
    return this.#opening.slice(0, this.#openingLength);
  }

  /**
   * Blocks of the channel and of its companions so far, all on one grid; adding may go on afterwards.
   *
   * @param most cells of the grid, at least 2; without it, as fine as they are kept
   */
  blocks(most = Number.POSITIVE_INFINITY) {
    const all = [this.#assembler, ...this.#companions];
    const widest = Math.max(...all.map((assembler) => assembler.samplesPerCell(most)));
    return {
      own: this.#assembler.blocks(widest),
      companions: this.#companions.map((assembler) => assembler.blocks(widest)),
    };
  }
}
