import { setImmediate } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import { type PlainForm, PlainRows } from './plainrows.ts';
import type { Reader } from './reader.ts';
import { type PieceMemory, pieceCount, pieceMemory, SharedPiece } from './shared-piece.ts';

/** Place in the turns: how many pieces the first thread is done with. */
export const tookAt = 0;

/** What the second thread is started with. */
export interface SecondStart {
  /** Descriptor of the open file. */
  readonly file: number;
  readonly pieces: readonly PieceMemory[];
  readonly turns: SharedArrayBuffer;
}

/** What it is to do, once it is known how the file is written. */
export interface SecondJob {
  readonly form: PlainForm;
  /** Bytes of the file that are read already. */
  readonly from: number;
}

/** What it tells: how many pieces it has filled, that it has read the rows of one, and that the file has ended. */
export type SecondNews =
  | { readonly kind: 'filled'; readonly count: number }
  | { readonly kind: 'more' }
  | { readonly kind: 'end'; readonly count: number; readonly sha256: string; readonly bytes: number };

/** The second thread has ended by itself: the file is to be read without it. */
export class SecondThreadLost extends Error {
  override readonly name = 'SecondThreadLost';
}

/**
 * A second thread that helps to read a large file: it fetches and hashes the bytes, and reads plain rows ahead of their
 * turn. Rows are summed up by the first thread alone, in order, so that the recording is the same to the last bit.
 */
export class SecondReader {
  readonly #worker: Worker;
  readonly #pieces: readonly SharedPiece[];
  readonly #turns: Int32Array;
  #filled = 0;
  #end: Extract<SecondNews, { kind: 'end' }> | null = null;
  #lost = false;
  #wake: () => void = () => undefined;

  /**
   * Starts the thread.
   *
   * @param module that it runs
   * @param file descriptor, open for reading until `close` is done
   */
  constructor(module: URL, file: number) {
    const memory = Array.from({ length: pieceCount }, pieceMemory);
    const turns = new SharedArrayBuffer(4);
    this.#pieces = memory.map((one) => new SharedPiece(one));
    this.#turns = new Int32Array(turns);
    const workerData: SecondStart = { file, pieces: memory, turns };
    this.#worker = new Worker(module, { workerData, execArgv: [] });
    this.#worker.on('message', (news: SecondNews) => {
      if (news.kind === 'end') this.#end = news;
      if (news.kind !== 'more') this.#filled = news.count;
      this.#wake();
    });
    const lose = () => {
      this.#lost = true;
      this.#wake();
    };
    this.#worker.on('error', lose);
    this.#worker.on('exit', lose);
  }

  /**
   * Passes the rest of the file on.
   *
   * @param reader that has understood the file from its first bytes
   * @param from how many those were
   * @param seen told how many bytes of the file have been passed on
   * @returns hash and length of the whole file
   * @throws SecondThreadLost; whatever the reader throws
   */
  async pass(
    reader: Reader,
    form: PlainForm,
    from: number,
    seen: (bytes: number) => void,
  ): Promise<{ readonly sha256: string; readonly bytes: number }> {
    const job: SecondJob = { form, from };
    this.#worker.postMessage(job);
    const rows = new PlainRows(form);
    let bytes = from;
    for (let k = 0; await this.#isThere(k); k++) {
      const piece = this.#piece(k);
      if (piece.take()) reader.push(piece.bytes);
      else {
        while (!piece.isRead) if (!this.#readOneAhead(k, rows, form.lineEnd)) await this.#news();
        reader.pushRead(piece);
      }
      bytes += piece.bytes.length;
      Atomics.store(this.#turns, tookAt, k + 1);
      Atomics.notify(this.#turns, tookAt);
      seen(bytes);
      // Signals and the progress bar want their turn, too.
      await setImmediate();
    }
    if (this.#end === null) throw new SecondThreadLost();
    return this.#end;
  }

  /** Ends the thread. */
  async close(): Promise<void> {
    await this.#worker.terminate();
  }

  async #isThere(k: number): Promise<boolean> {
    while (this.#filled <= k && this.#end === null) await this.#news();
    return k < this.#filled;
  }

  #readOneAhead(k: number, rows: PlainRows, lineEnd: number): boolean {
    for (let ahead = k + 1; ahead < this.#filled; ahead++) {
      const piece = this.#piece(ahead);
      if (!piece.take()) continue;
      piece.readRows(rows, lineEnd);
      return true;
    }
    return false;
  }

  #piece(k: number): SharedPiece {
    const piece = this.#pieces[k % this.#pieces.length];
    if (piece === undefined) throw new RangeError(`there is no piece ${k}`);
    return piece;
  }

  async #news(): Promise<void> {
    if (this.#lost) throw new SecondThreadLost();
    await new Promise<void>((resolve) => {
      this.#wake = resolve;
    });
  }
}
