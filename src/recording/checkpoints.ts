import type { Spreader } from './spreader.ts';
import type { Timekeeper } from './timekeeper.ts';

/** Place in a file at the start of a row, with all that is needed to go on reading from there. */
export interface Checkpoint {
  /** Bytes from the start of the file, the mark not counted. */
  readonly offset: number;
  readonly line: number;
  readonly row: number;
  readonly part: number;
  /** Time of the row before, s from the first row of the part. */
  readonly time: number;
  readonly keeper: Timekeeper;
  readonly spreader: Spreader | null;
}

const firstSpacing = 1 << 18;
const mostCheckpoints = 2048;

/** Checkpoints of a file: about one in 256 KiB, further apart where there would be more than some thousand. */
export class Checkpoints {
  #list: Checkpoint[] = [];
  #spacing = firstSpacing;
  #next = 0;

  /** One that wants no checkpoints. */
  static none(): Checkpoints {
    const none = new Checkpoints();
    none.#next = Number.POSITIVE_INFINITY;
    return none;
  }

  clone(): Checkpoints {
    const copy = new Checkpoints();
    copy.#list = [...this.#list];
    copy.#spacing = this.#spacing;
    copy.#next = this.#next;
    return copy;
  }

  get list(): readonly Checkpoint[] {
    return this.#list;
  }

  /** The first row at or behind this place is worth a checkpoint, bytes. */
  get next(): number {
    return this.#next;
  }

  add(checkpoint: Checkpoint): void {
    this.#next = checkpoint.offset + this.#spacing;
    this.#list.push(checkpoint);
    if (this.#list.length < mostCheckpoints) return;
    this.#list = this.#list.filter((_, i) => i % 2 === 0);
    this.#spacing *= 2;
  }
}
