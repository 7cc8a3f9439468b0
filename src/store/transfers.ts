import { randomBytes } from 'node:crypto';
import { lstat, open, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { StoreError } from './experiment-save.ts';
import { fileHash } from './file-hash.ts';
import { openTurns } from './in-turn.ts';
import { leadsOut } from './leads-out.ts';
import { plainFile, utf8Text } from './plain-file.ts';
import { TransferError } from './transfer-error.ts';
import { type PieceCheck, receive } from './transfer-receive.ts';
import { admitFile, type HeldFile, type UploadLimits, usualUploadLimits } from './upload-limits.ts';
import { longestWait, openWaitingFolder, type Uploads, uploadId, waitingFolder } from './uploads.ts';

/** What a sender says before the first byte. */
interface AnnouncedFile {
  /** As the person's disk calls it. */
  readonly name: string;
  /** Whose it is: a group's, or the staff's. */
  readonly owner: string;
  readonly bytes: number;
  /** SHA-256 in hexadecimal, where the sender knows it. */
  readonly sha256: string | null;
  /** When the file was changed last, as the sender's disk says it; tells two files of one name apart. */
  readonly changed: string | null;
}

/** A file on its way. */
export interface Transfer extends AnnouncedFile {
  readonly id: string;
  /** Bytes that are safe on the disk; the sender goes on from there. */
  readonly received: number;
  /** When it goes where nothing more comes, ms since 1970; null where it is whole. */
  readonly expires: number | null;
}

/**
 * Files on their way. Whatever was acknowledged outlives a lost connection and a server that was killed. A whole file
 * waits like any other that was handed over, under the same id.
 */
export interface Transfers {
  /**
   * Begins a transfer, or finds the one that the same owner began for the same file: so an answer that was lost, or a
   * sender that was started again, begins nothing twice.
   *
   * @throws TransferError, StoreError
   */
  begin(file: AnnouncedFile): Promise<Transfer>;
  /**
   * How far a transfer is; null where there is none. Whoever asks has lost the connection before, so what still comes
   * through that one is ended first.
   */
  find(id: string): Promise<Transfer | null>;
  /**
   * Whose it is, whatever it does at the moment; null where there is none.
   */
  ownerOf(id: string): Promise<string | null>;
  /**
   * Takes more bytes.
   *
   * @param offset byte from which on they are
   * @param pieces what comes; it must end soon after the signal
   * @param check null where the sender gives no hash of these bytes
   * @throws TransferError, StoreError; what was acknowledged stays
   */
  append(
    id: string,
    offset: number,
    pieces: (stop: AbortSignal) => AsyncIterable<Uint8Array>,
    check: PieceCheck | null,
  ): Promise<Transfer>;
  /** Gives it up, and what came of it. */
  end(id: string): Promise<void>;
  /** What is on its way or waits, for whoever must see to the room on the disk. */
  held(): Promise<readonly HeldFile[]>;
}

const noteSchema = z.object({
  name: z.string(),
  owner: z.string(),
  bytes: z.int().min(0),
  sha256: z.string().nullable(),
  changed: z.string().nullable(),
  received: z.int().min(0),
});
/** A note holds a name and a hash, bytes. */
const largestNote = 16_384;
type Note = z.infer<typeof noteSchema>;

/**
 * The transfers of an experiment folder, in the hidden folder where files wait. One note a transfer says how many bytes
 * are safe; bytes behind them were never acknowledged and are cut off.
 *
 * @param folder of the experiment
 * @param uploads where whole files go
 */
export function openTransfers(
  folder: string,
  uploads: Uploads,
  limits: UploadLimits = usualUploadLimits,
): Transfers {
  const waiting = waitingFolder(folder);
  const partOf = (id: string) => join(waiting, `${id}.part`);
  const noteOf = (id: string) => join(waiting, `${id}.transfer`);
  const inTurn = openTurns();
  /** What is being received now, and how it is ended. */
  const receiving = new Map<string, AbortController>();

  const save = (id: string, note: Note) => writeAtomically(noteOf(id), JSON.stringify(note));
  const drop = async (id: string) => {
    for (const path of [noteOf(id), partOf(id)]) await rm(path, { force: true });
  };

  const stateOf = async (id: string): Promise<Transfer | null> => {
    if (!uploadId.test(id)) return null;
    const whole = await uploads.find(id);
    if (whole !== null) {
      const { name, owner, bytes, sha256 } = whole;
      return { id, name, owner, bytes, sha256, changed: null, received: bytes, expires: null };
    }
    const found = await stat(noteOf(id)).catch(() => null);
    if (found === null || (await leadsOut(folder, waiting))) return null;
    const text = await plainFile(noteOf(id), largestNote);
    const note = noteSchema.safeParse(parsed((typeof text === 'string' ? null : utf8Text(text)) ?? ''));
    if (!note.success) return null;
    // Where it is being turned into a waiting file, its bytes go by the other name already.
    const there = (await plainSize(partOf(id))) ?? (await plainSize(join(waiting, `${id}.bytes`)));
    if (there === null) return null;
    const received = Math.min(note.data.received, there);
    return { id, ...note.data, received, expires: found.mtimeMs + longestWait };
  };

  const list = async (): Promise<readonly Transfer[]> => {
    const names = await readdir(waiting).catch(() => []);
    const ids = names.filter((name) => name.endsWith('.transfer')).map((name) => name.slice(0, -9));
    return (await Promise.all(ids.map(stateOf))).filter((one) => one !== null);
  };

  /** Turns a transfer whose last byte has come into a file that waits. Doing it again after a crash is harmless. */
  const finished = async (transfer: Transfer): Promise<Transfer> => {
    const { id, name, owner, bytes } = transfer;
    if (transfer.received < bytes) return transfer;
    const known = await uploads.find(id);
    if (known === null) {
      const part =
        (await stat(partOf(id)).catch(() => null)) === null ? join(waiting, `${id}.bytes`) : partOf(id);
      const sha256 = await fileHash(part);
      if (transfer.sha256 !== null && transfer.sha256 !== sha256) {
        await drop(id);
        throw wrongHash(name, transfer.sha256, sha256);
      }
      await uploads.adopt({ id, name, owner, bytes, sha256 }, part);
    }
    await rm(noteOf(id), { force: true });
    return { ...transfer, expires: null };
  };

  const held = async (): Promise<readonly HeldFile[]> => {
    const under = (await list()).map(({ owner, bytes, received }) => ({
      owner,
      bytes,
      missing: bytes - received,
    }));
    const waits = (await uploads.list()).map(({ owner, bytes }) => ({ owner, bytes, missing: 0 }));
    return [...under, ...waits];
  };

  const begin = async (file: AnnouncedFile): Promise<Transfer> => {
    const same = [...(await list()), ...(await uploads.list())].find((other) => isSame(file, other));
    if (same !== undefined) {
      const known = await stateOf(same.id);
      if (known !== null) return known;
    }
    await openWaitingFolder(folder);
    await admitFile(folder, await held(), file, limits);
    const id = randomBytes(16).toString('hex');
    const { name, owner, bytes, sha256, changed } = file;
    await (await open(partOf(id), 'wx')).close();
    await save(id, { name, owner, bytes, sha256, changed, received: 0 });
    return finished({
      id,
      name,
      owner,
      bytes,
      sha256,
      changed,
      received: 0,
      expires: Date.now() + longestWait,
    });
  };

  const append: Transfers['append'] = async (id, offset, pieces, check) => {
    const transfer = await stateOf(id);
    if (transfer === null) throw gone;
    const { name, owner, bytes, sha256, changed, received } = transfer;
    if (offset !== received) throw outOfStep(received);
    if (received === bytes) return finished(transfer);
    const stop = new AbortController();
    receiving.set(id, stop);
    try {
      const { reached, failure } = await receive({
        path: partOf(id),
        from: received,
        to: bytes,
        pieces: pieces(stop.signal),
        check,
        acknowledge: (safe) => save(id, { name, owner, bytes, sha256, changed, received: safe }),
      });
      if (failure !== null) throw failure;
      return await finished({ ...transfer, received: reached, expires: Date.now() + longestWait });
    } finally {
      receiving.delete(id);
    }
  };

  return {
    begin: (file) => inTurn('begin', () => asStoreError(() => begin(file))),
    find: (id) => {
      receiving.get(id)?.abort();
      return inTurn(id, () =>
        asStoreError(async () => {
          const transfer = await stateOf(id);
          return transfer === null ? null : finished(transfer);
        }),
      );
    },
    ownerOf: async (id) => (await stateOf(id))?.owner ?? null,
    append: (id, offset, pieces, check) => {
      receiving.get(id)?.abort();
      return inTurn(id, () => asStoreError(() => append(id, offset, pieces, check)));
    },
    end: (id) => {
      receiving.get(id)?.abort();
      return inTurn(id, async () => {
        if (!uploadId.test(id)) return;
        await drop(id);
        await uploads.leaveOut(id);
      });
    },
    held,
  };
}

/** Whether an announced file is the one that somebody began to send: by its hash, or by its name and its time. */
function isSame(file: AnnouncedFile, other: Partial<AnnouncedFile>): boolean {
  if (file.owner !== other.owner || file.bytes !== other.bytes || file.name !== other.name) return false;
  if (file.sha256 !== null) return file.sha256 === other.sha256;
  return file.changed !== null && file.changed === other.changed;
}

async function asStoreError<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof StoreError || error instanceof TransferError) throw error;
    throw new StoreError(`The file cannot be taken in (${reason(error)}).`);
  }
}

/** Bytes of a file; null where there is none, or a link. */
async function plainSize(path: string): Promise<number | null> {
  const found = await lstat(path).catch(() => null);
  return found?.isFile() === true ? found.size : null;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const gone = new TransferError(
  'gone',
  'This transfer is not under way here: it is over, or nothing came for a day.',
  'Send the file from its beginning.',
);

function outOfStep(received: number): TransferError {
  return new TransferError(
    'out-of-step',
    `This transfer goes on at byte ${received}.`,
    'Ask how far it is, and send from there.',
  );
}

function wrongHash(name: string, announced: string, found: string): TransferError {
  return new TransferError(
    'wrong-hash',
    `What arrived as ${JSON.stringify(name.slice(0, 100))} has the SHA-256 ${found}, but ${announced} was announced. Nothing of it was kept.`,
    'Send it once more; if it happens again, the file changes while it is read, or its disk is at fault.',
  );
}
