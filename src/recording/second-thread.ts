/** What the second thread runs that helps to read a large file; started by `SecondReader`. */
import { createHash } from 'node:crypto';
import { readSync } from 'node:fs';
import { parentPort, workerData } from 'node:worker_threads';
import { PlainRows } from './plainrows.ts';
import { type SecondJob, type SecondNews, type SecondStart, tookAt } from './second-reader.ts';
import { pieceBytes, SharedPiece } from './shared-piece.ts';

const { file, pieces: memory, turns: turnMemory }: SecondStart = workerData;
const pieces = memory.map((one) => new SharedPiece(one));
const turns = new Int32Array(turnMemory);

const tell = (news: SecondNews) => parentPort?.postMessage(news);

/** The first bytes of the file, hashed; whether a line begins behind them. */
function readHead(hash: ReturnType<typeof createHash>, { form, from }: SecondJob): boolean {
  const head = new Uint8Array(from);
  let length = 0;
  while (length < from) {
    const more = readSync(file, head, length, from - length, length);
    if (more === 0) throw new Error('the file has become shorter');
    length += more;
  }
  hash.update(head);
  return head.at(-1) === form.lineEnd;
}

/** Fills piece after piece and hashes them; while all are full, reads the rows of those whose turn has not come. */
function help(job: SecondJob): void {
  const { form } = job;
  const rows = new PlainRows(form);
  const hash = createHash('sha256');
  let whole = readHead(hash, job);
  let position = job.from;
  let count = 0;

  const readOneAhead = (): boolean => {
    for (let k = Atomics.load(turns, tookAt) + 1; k < count; k++) {
      const piece = pieces[k % pieces.length];
      if (!piece?.take()) continue;
      piece.readRows(rows, form.lineEnd);
      tell({ kind: 'more' });
      return true;
    }
    return false;
  };

  while (true) {
    const took = Atomics.load(turns, tookAt);
    const piece = pieces[count % pieces.length];
    if (piece === undefined || count - took >= pieces.length) {
      if (!readOneAhead()) Atomics.wait(turns, tookAt, took);
      continue;
    }
    const length = readSync(file, piece.room, 0, pieceBytes, position);
    if (length === 0) break;
    piece.fill(length, form.lineEnd, whole);
    count++;
    tell({ kind: 'filled', count });
    const { bytes } = piece;
    hash.update(bytes);
    whole = bytes.at(-1) === form.lineEnd;
    position += length;
  }
  tell({ kind: 'end', count, sha256: hash.digest('hex'), bytes: position });
  while (readOneAhead());
}

parentPort?.once('message', help);
