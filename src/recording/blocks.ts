import { eachColumn } from './block-columns.ts';
import { mainsFactors } from './cells.ts';
import { coarsenBlocks } from './coarsen.ts';
import type { Run } from './run.ts';
import type { Blocks } from './types.ts';

/** How many blocks a recording is summed up in at most: memory stays the same however long it is. */
const defaultCapacity = 1 << 17;

/** Columns of the store, one row a block. */
const columns = ['cell', 'time', 'count', 'mean', 'squares', 'min', 'max'] as const;
/** Columns of the blocks while they grow. */
type Store = Record<(typeof columns)[number], Float64Array>;

/**
 * Sums up samples in blocks as they arrive. Blocks start as single samples; when there would be too many, all
 * cells grow by the next factor and neighbours are merged. The factors are chosen so that the cells keep
 * fitting into whole mains periods (50 and 60 Hz) as long as possible: an average over whole periods is free
 * of hum. The result depends on the samples alone, not on how often it was asked for on the way.
 */
export class BlockAssembler {
  readonly #samplePeriod: number;
  readonly #capacity: number;
  readonly #factors: readonly number[];
  #coarsenings = 0;
  #samplesPerCell = 1;
  #length = 0;
  #store: Store;

  // The open block: sums are taken about its first sample, so that nothing is lost to cancellation.
  #openCell = -1;
  #openCount = 0;
  #openFirst = 0;
  #openFirstTime = 0;
  #openSum = 0;
  #openSquares = 0;
  #openTime = 0;
  #openMin = 0;
  #openMax = 0;
  /** Samples before this time surely belong to the open block, s. */
  #openUntil = Number.NEGATIVE_INFINITY;

  /**
   * @param samplePeriod usual spacing of the samples, s, > 0
   * @param capacity most closed blocks to keep, at least 2; the open one comes on top
   */
  constructor(samplePeriod: number, capacity: number = defaultCapacity) {
    this.#samplePeriod = samplePeriod;
    this.#capacity = capacity;
    this.#factors = mainsFactors(samplePeriod);
    // One row more than there are closed blocks at most: room to look at the open one in its place.
    this.#store = emptyStore(Math.min(capacity, 1 << 13) + 1);
  }

  /**
   * Adds one sample.
   *
   * @param time s from the first sample; not earlier than the sample before
   * @param value in any unit, finite
   */
  add(time: number, value: number): void {
    if (time < this.#openUntil || (this.#openCount > 0 && this.#cellOf(time) === this.#openCell)) {
      const d = value - this.#openFirst;
      this.#openCount++;
      this.#openSum += d;
      this.#openSquares += d * d;
      this.#openTime += time - this.#openFirstTime;
      if (value < this.#openMin) this.#openMin = value;
      else if (value > this.#openMax) this.#openMax = value;
      return;
    }
    this.#close();
    this.#open(time, value);
  }

  /**
   * Adds the rows of a run one by one, the same sums in the same order as `add` makes.
   *
   * @param place of the value in a row
   * @param zero time of the first sample, s
   */
  addRun({ times, cells, width, from, to }: Run, place: number, zero: number): void {
    let i = from;
    while (i < to) {
      // Sums that stay in this function stay in the processor.
      const until = this.#openUntil;
      const first = this.#openFirst;
      const firstTime = this.#openFirstTime;
      let sum = this.#openSum;
      let squares = this.#openSquares;
      let moment = this.#openTime;
      let min = this.#openMin;
      let max = this.#openMax;
      const start = i;
      let time = (times[i] ?? 0) - zero;
      let value = cells[i * width + place] ?? Number.NaN;
      while (time < until) {
        const d = value - first;
        sum += d;
        squares += d * d;
        moment += time - firstTime;
        if (value < min) min = value;
        else if (value > max) max = value;
        if (++i === to) break;
        time = (times[i] ?? 0) - zero;
        value = cells[i * width + place] ?? Number.NaN;
      }
      this.#openCount += i - start;
      this.#openSum = sum;
      this.#openSquares = squares;
      this.#openTime = moment;
      this.#openMin = min;
      this.#openMax = max;
      if (i < to) this.add(time, value);
      i++;
    }
  }

  #cellOf(time: number): number {
    return Math.floor(Math.floor(time / this.#samplePeriod + 0.5) / this.#samplesPerCell);
  }

  #open(time: number, value: number): void {
    this.#openCell = this.#cellOf(time);
    // A quarter of a sample short of the cell's end: rounding cannot reach that far.
    this.#openUntil = ((this.#openCell + 1) * this.#samplesPerCell - 0.75) * this.#samplePeriod;
    this.#openCount = 1;
    this.#openFirst = value;
    this.#openFirstTime = time;
    this.#openSum = 0;
    this.#openSquares = 0;
    this.#openTime = 0;
    this.#openMin = value;
    this.#openMax = value;
  }

  /**
   * The blocks so far, the open one among them; adding may go on afterwards.
   *
   * @param samplesPerCell width of the cells in sample periods, one that `samplesPerCell` gave; as they are kept
   *   without it
   */
  blocks(samplesPerCell: number = this.#samplesPerCell): Blocks {
    if (samplesPerCell > this.#samplesPerCell) {
      return coarsenBlocks(this.#kept(), samplesPerCell / this.#samplesPerCell);
    }
    const copy = emptyStore(this.#length + 1);
    for (const name of columns) copy[name].set(this.#store[name].subarray(0, this.#length));
    const length = this.#openCount > 0 ? this.#append(copy, this.#length) : this.#length;
    return this.#cut(copy, length);
  }

  /** The store itself, with the open block behind the others even where it shares a cell with the last. */
  #kept(): Blocks {
    if (this.#openCount === 0) return this.#cut(this.#store, this.#length);
    this.#write(this.#store, this.#length);
    return this.#cut(this.#store, this.#length + 1);
  }

  #cut(store: Store, length: number): Blocks {
    return {
      length,
      width: this.#samplesPerCell * this.#samplePeriod,
      ...eachColumn(store, (column) => column.subarray(0, length)),
    };
  }

  /** A copy that goes its own way. */
  clone(): BlockAssembler {
    const copy = new BlockAssembler(this.#samplePeriod, this.#capacity);
    copy.#coarsenings = this.#coarsenings;
    copy.#samplesPerCell = this.#samplesPerCell;
    copy.#length = this.#length;
    copy.#store = emptyStore(this.#store.cell.length);
    for (const name of columns) copy.#store[name].set(this.#store[name].subarray(0, this.#length));
    copy.#openCell = this.#openCell;
    copy.#openCount = this.#openCount;
    copy.#openFirst = this.#openFirst;
    copy.#openFirstTime = this.#openFirstTime;
    copy.#openSum = this.#openSum;
    copy.#openSquares = this.#openSquares;
    copy.#openTime = this.#openTime;
    copy.#openMin = this.#openMin;
    copy.#openMax = this.#openMax;
    copy.#openUntil = this.#openUntil;
    return copy;
  }

  /**
   * Width of a cell in sample periods, if there were to be no more cells than that.
   *
   * @param most cells, at least 2
   */
  samplesPerCell(most = Number.POSITIVE_INFINITY): number {
    const last = Math.max(this.#openCell, 0);
    let factor = 1;
    for (let k = this.#coarsenings; Math.floor(last / factor) >= most; k++) factor *= this.#factors[k] ?? 2;
    return factor * this.#samplesPerCell;
  }

  #close(): void {
    if (this.#openCount === 0) return;
    while (this.#length === this.#capacity) this.#coarsen();
    if (this.#length + 1 === this.#store.cell.length) this.#grow();
    this.#length = this.#append(this.#store, this.#length);
    this.#openCount = 0;
  }

  /** Puts the open block behind `length` blocks, into the last one where a coarser cell now holds both. */
  #append(store: Store, length: number): number {
    this.#write(store, length);
    if (length > 0 && store.cell[length - 1] === this.#openCell) {
      mergeInto(store, length - 1, length);
      return length;
    }
    return length + 1;
  }

  #write(store: Store, length: number): void {
    const n = this.#openCount;
    store.cell[length] = this.#openCell;
    store.time[length] = this.#openFirstTime + this.#openTime / n;
    store.count[length] = n;
    store.mean[length] = this.#openFirst + this.#openSum / n;
    store.squares[length] = Math.max(0, this.#openSquares - (this.#openSum * this.#openSum) / n);
    store.min[length] = this.#openMin;
    store.max[length] = this.#openMax;
  }

  #coarsen(): void {
    const factor = this.#factors[this.#coarsenings] ?? 2;
    this.#coarsenings++;
    this.#samplesPerCell *= factor;
    const store = this.#store;
    const { cell, time, count, mean, squares, min, max } = store;
    let to = -1;
    for (let from = 0; from < this.#length; from++) {
      const coarser = Math.floor(at(cell, from) / factor);
      if (to >= 0 && cell[to] === coarser) {
        mergeInto(store, to, from);
        continue;
      }
      to++;
      cell[to] = coarser;
      time[to] = at(time, from);
      count[to] = at(count, from);
      mean[to] = at(mean, from);
      squares[to] = at(squares, from);
      min[to] = at(min, from);
      max[to] = at(max, from);
    }
    this.#length = to + 1;
    this.#openCell = Math.floor(this.#openCell / factor);
    this.#openUntil = Number.NEGATIVE_INFINITY;
  }

  #grow(): void {
    // At once as large as it can become: memory that is not written to yet costs nothing.
    const larger = emptyStore(this.#capacity + 1);
    for (const name of columns) larger[name].set(this.#store[name]);
    this.#store = larger;
  }
}

function emptyStore(size: number): Store {
  return {
    cell: new Float64Array(size),
    time: new Float64Array(size),
    count: new Float64Array(size),
    mean: new Float64Array(size),
    squares: new Float64Array(size),
    min: new Float64Array(size),
    max: new Float64Array(size),
  };
}

function at(values: Float64Array, index: number): number {
  return values[index] ?? Number.NaN;
}

/** Pools two neighbouring blocks (Chan, Golub & LeVeque, 1979: updating a sum of squares). */
function mergeInto(store: Store, to: number, from: number): void {
  const na = at(store.count, to);
  const nb = at(store.count, from);
  const n = na + nb;
  const d = at(store.mean, from) - at(store.mean, to);
  store.squares[to] = at(store.squares, to) + at(store.squares, from) + (d * d * na * nb) / n;
  store.mean[to] = at(store.mean, to) + (d * nb) / n;
  store.time[to] = at(store.time, to) + ((at(store.time, from) - at(store.time, to)) * nb) / n;
  store.count[to] = n;
  store.min[to] = Math.min(at(store.min, to), at(store.min, from));
  store.max[to] = Math.max(at(store.max, to), at(store.max, from));
}

/**
 * Blocks of evenly spaced readings.
 *
 * @param values readings, in order
 * @param samplePeriod spacing, s, > 0
 * @param capacity most blocks to keep, at least 2
 */
export function blocksOf(values: ArrayLike<number>, samplePeriod: number, capacity?: number): Blocks {
  const assembler = new BlockAssembler(samplePeriod, capacity);
  for (let i = 0; i < values.length; i++) assembler.add(i * samplePeriod, values[i] ?? Number.NaN);
  return assembler.blocks();
}
