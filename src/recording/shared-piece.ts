import type { PlainRows } from './plainrows.ts';

/** Bytes of a file in one piece. */
export const pieceBytes = 1 << 20;
/** How many pieces there are at once: enough that neither thread waits for the other for long. */
export const pieceCount = 6;

/** What has become of a piece. A thread that finds it `filled` takes it over by setting `taken`, and sets `read` behind it. */
const filled = 1;
const taken = 2;
const read = 3;

/** Places in the numbers of a piece. */
const stateAt = 0;
const lengthAt = 1;
const startAt = 2;
const countAt = 3;
const firstStretch = 4;
/** Of a stretch of plain rows: where it starts, how many there are, where it ends, and where its cells begin. */
const perStretch = 4;
const mostStretches = 256;
/** A piece with as many other lines in it is left to the reader. */
const mostOthers = 64;

/** The memory of a piece, as it is passed to the other thread. */
export interface PieceMemory {
  readonly bytes: SharedArrayBuffer;
  readonly cells: SharedArrayBuffer;
  readonly numbers: SharedArrayBuffer;
}

/** Room for a piece; for its numbers as many bytes as for its text, which rows of 16 bytes and two columns just fill. */
export function pieceMemory(): PieceMemory {
  return {
    bytes: new SharedArrayBuffer(pieceBytes),
    cells: new SharedArrayBuffer(pieceBytes),
    numbers: new SharedArrayBuffer(4 * (firstStretch + perStretch * mostStretches)),
  };
}

/**
 * A piece of a file in memory that two threads share, with the plain rows that were read of it before its turn came.
 * Whoever reads them, they are the rows that `PlainRows` gives.
 */
export class SharedPiece {
  readonly #bytes: Uint8Array;
  readonly #cells: Float64Array;
  readonly #numbers: Int32Array;
  /** The stretch that is given next. */
  #stretch = 0;

  constructor({ bytes, cells, numbers }: PieceMemory) {
    this.#bytes = new Uint8Array(bytes);
    this.#cells = new Float64Array(cells);
    this.#numbers = new Int32Array(numbers);
  }

  /** All of its room, to be filled. */
  get room(): Uint8Array {
    return this.#bytes;
  }

  /** What it holds. */
  get bytes(): Uint8Array {
    return this.#bytes.subarray(0, this.#number(lengthAt));
  }

  /**
   * Says that it has been filled.
   *
   * @param length bytes
   * @param whole whether a line begins with its first byte
   */
  fill(length: number, lineEnd: number, whole: boolean): void {
    this.#numbers[lengthAt] = length;
    this.#numbers[startAt] = whole ? 0 : this.#bytes.subarray(0, length).indexOf(lineEnd) + 1;
    this.#numbers[countAt] = 0;
    Atomics.store(this.#numbers, stateAt, filled);
  }

  /** Takes it over; false where another thread was first. */
  take(): boolean {
    return Atomics.compareExchange(this.#numbers, stateAt, filled, taken) === filled;
  }

  get isRead(): boolean {
    return Atomics.load(this.#numbers, stateAt) === read;
  }

  /** Reads its plain rows, after `take`. What is no plain row, and what there is no room for, is left out. */
  readRows(rows: PlainRows, lineEnd: number): void {
    const bytes = this.bytes;
    const end = bytes.lastIndexOf(lineEnd) + 1;
    let at = this.#number(startAt);
    let cell = 0;
    let count = 0;
    let others = 0;
    while (at < end && count < mostStretches && others < mostOthers) {
      rows.take(bytes, at, end);
      if (rows.count === 0) {
        others++;
        at = bytes.indexOf(lineEnd, at) + 1;
        continue;
      }
      const length = rows.count * rows.width;
      if (cell + length > this.#cells.length) break;
      this.#cells.set(rows.cells.subarray(0, length), cell);
      const place = firstStretch + perStretch * count;
      this.#numbers[place] = at;
      this.#numbers[place + 1] = rows.count;
      this.#numbers[place + 2] = rows.next;
      this.#numbers[place + 3] = cell;
      cell += length;
      count++;
      at = rows.next;
    }
    this.#numbers[countAt] = count;
    Atomics.store(this.#numbers, stateAt, read);
  }

  /** Begins to give what was read. */
  rewind(): void {
    this.#stretch = 0;
  }

  /** Whether rows were read from this place on; places are asked for in rising order. */
  startsAt(at: number): boolean {
    const count = this.#number(countAt);
    while (this.#stretch < count && this.#of(0) < at) this.#stretch++;
    return this.#stretch < count && this.#of(0) === at;
  }

  /** Gives the rows from the place that was asked for latest. */
  give(rows: PlainRows): void {
    const count = this.#of(1);
    const cell = this.#of(3);
    rows.adopt(this.#cells.subarray(cell, cell + count * rows.width), count, this.#of(2));
    this.#stretch++;
  }

  /** A number of the stretch that is next. */
  #of(which: 0 | 1 | 2 | 3): number {
    return this.#number(firstStretch + perStretch * this.#stretch + which);
  }

  #number(place: number): number {
    return this.#numbers[place] ?? 0;
  }
}
