import { createHash } from 'node:crypto';
import { type FileHandle, open } from 'node:fs/promises';
import { flush } from './flush.ts';
import { joinedPieces } from './joined-pieces.ts';
import { isCode } from './place-new.ts';
import { TransferError } from './transfer-error.ts';

/** The hash that the sender gives of the bytes of one request. */
export interface PieceCheck {
  readonly algorithm: 'sha1' | 'sha256';
  readonly digest: Buffer;
}

/** What is received, and to where. */
interface Receiving {
  /** File that is there already. */
  readonly path: string;
  /** Bytes that are safe already; whatever lies behind them is cut off. */
  readonly from: number;
  /** Bytes of the whole file. */
  readonly to: number;
  readonly pieces: AsyncIterable<Uint8Array>;
  readonly check: PieceCheck | null;
  /** Notes how many bytes are safe; they are on the disk by then. */
  readonly acknowledge: (bytes: number) => Promise<void>;
}

/** So many bytes may be sent twice after the server was killed. */
const step = 8 << 20;

/**
 * Appends what comes. Where it ends early, what came is safe and counts, unless the sender gave a hash of it: then all
 * of it counts or nothing.
 *
 * @returns bytes that are safe, and why there are no more of them
 * @throws Error of the file system where not even that can be said
 */
export async function receive({ path, from, to, pieces, check, acknowledge }: Receiving): Promise<{
  readonly reached: number;
  readonly failure: unknown;
}> {
  const file = await open(path, 'r+');
  const hash = check === null ? null : createHash(check.algorithm);
  let at = from;
  let safe = from;
  const settle = async () => {
    if (at === safe) return;
    await flush(file);
    await acknowledge(at);
    safe = at;
  };
  try {
    await file.truncate(from);
    let failure: unknown = null;
    try {
      for await (const piece of joinedPieces(pieces)) {
        if (at + piece.length > to) throw tooLong;
        await writeWhole(file, piece, at);
        at += piece.length;
        hash?.update(piece);
        if (check === null && at - safe >= step) await settle();
      }
    } catch (error) {
      failure = isCode(error, 'ENOSPC') ? noRoom : error;
    }
    if (check !== null && hash !== null && failure === null && !hash.digest().equals(check.digest))
      failure = damaged;
    if (check !== null && failure !== null) {
      at = from;
      await file.truncate(from);
    }
    await settle();
    return { reached: at, failure };
  } finally {
    await file.close();
  }
}

async function writeWhole(file: FileHandle, piece: Uint8Array, position: number): Promise<void> {
  for (let done = 0; done < piece.length; ) {
    done += (await file.write(piece, done, piece.length - done, position + done)).bytesWritten;
  }
}

const tooLong = new TransferError(
  'too-long',
  'More bytes came than were announced.',
  'Send the file from its beginning, with its size as it is now; a logger may still be writing to it.',
);

const damaged = new TransferError(
  'damaged',
  'These bytes did not arrive as they were sent; they were not taken.',
  'Send them once more.',
);

const noRoom = new TransferError(
  'no-room',
  'The disk of the server is full.',
  'Tell whoever runs the server; the transfer goes on where it stopped once there is room.',
);
