import { statfs } from 'node:fs/promises';
import { TransferError } from './transfer-error.ts';

/** How much may be handed over before somebody gives it a place. */
export interface UploadLimits {
  /** Bytes of a file. */
  readonly largest: number;
  /** Files of one owner that are under way or wait. */
  readonly filesOfOwner: number;
  /** Their bytes, as announced. */
  readonly bytesOfOwner: number;
  /** Files of everybody. */
  readonly files: number;
  /** Bytes that stay free on the disk. */
  readonly spare: number;
}

/**
 * More than a session needs: a bench has a recording every few minutes, of some MB; an hour at 50 kHz as text is 2 GB.
 */
export const usualUploadLimits: UploadLimits = {
  largest: 8e9,
  filesOfOwner: 100,
  bytesOfOwner: 40e9,
  files: 1000,
  spare: 500e6,
};

/** A file that lies here for its owner, or is on its way. */
export interface HeldFile {
  readonly owner: string;
  /** As it was announced. */
  readonly bytes: number;
  /** Still to come. */
  readonly missing: number;
}

/**
 * Sees to it that there is room for one more file before its first byte is taken: room that was promised to others
 * counts as taken.
 *
 * @param folder on the disk that it comes to
 * @param held what lies here or is on its way
 * @param bytes of the new one; 0 where the sender does not say
 * @throws TransferError
 */
export async function admitFile(
  folder: string,
  held: readonly HeldFile[],
  { owner, bytes }: { readonly owner: string; readonly bytes: number },
  limits: UploadLimits,
): Promise<void> {
  if (bytes > limits.largest) {
    throw new TransferError(
      'too-large',
      `The file is larger than ${Math.round(limits.largest / 1e6)} MB.`,
      'Pack it with gzip, or put it into the folder of recordings by hand.',
    );
  }
  const own = held.filter((one) => one.owner === owner);
  const ownBytes = own.reduce((sum, one) => sum + one.bytes, bytes);
  if (own.length >= limits.filesOfOwner || held.length >= limits.files || ownBytes > limits.bytesOfOwner) {
    throw new TransferError(
      'too-many',
      'Too many files wait here already.',
      'Give those that wait their place, or leave them out; after a day they go by themselves.',
    );
  }
  // Some disks cannot say what is free; then writing finds out.
  const disk = await statfs(folder).catch(() => null);
  if (disk === null) return;
  const promised = held.reduce((sum, one) => sum + one.missing, 0);
  if (disk.bavail * disk.bsize - promised - bytes < limits.spare) {
    throw new TransferError(
      'no-room',
      'There is no room for this file on the disk of the server.',
      'Tell whoever runs the server; nothing that was handed in before is touched.',
    );
  }
}
