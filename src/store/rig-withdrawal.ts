import { z } from 'zod';
import type { RigWithdrawal } from '../rig/index.ts';
import { writeAtomically } from './atomic-write.ts';
import { reason } from './experiment-file.ts';
import { withFileLock } from './file-lock.ts';
import { behindLink, firstFault } from './json-file.ts';
import { leadsOut, noLinkOut } from './leads-out.ts';
import { RigCheckError } from './rig-error.ts';

/** What every entry of a book about rigs has. */
export const moment = z.iso.datetime({ offset: true });
export const entryId = z.string().regex(/^[A-Za-z0-9-]{1,60}$/);
export const signature = z.string().min(1).max(60);
export const entryCode = z.string().min(1).max(60);
export const entryNote = z.string().max(500);

/** An entry that was taken back. */
export const withdrawalSchema = z.strictObject({
  id: entryId,
  at: moment,
  who: signature,
  why: z.string().max(500),
});

/**
 * A book with an entry taken back. It stays in the book, and does not count any more.
 *
 * @param noun what the entry is called in messages
 * @throws RigCheckError where there is no such entry, or it is taken back already, or nobody is named
 */
export function withWithdrawal(
  book: { readonly ids: readonly string[]; readonly withdrawn: readonly RigWithdrawal[] },
  withdrawal: RigWithdrawal,
  noun: string,
): RigWithdrawal[] {
  const { id, at } = withdrawal;
  const who = withdrawal.who.trim();
  const why = withdrawal.why.trim();
  if (who === '' || why === '') {
    throw new RigCheckError('refused', `who takes the ${noun} back and why is not said`, 'give both');
  }
  if (!book.ids.includes(id)) {
    throw new RigCheckError(
      'refused',
      `there is no ${noun} ${id.slice(0, 60)}`,
      'name one of those that are listed',
    );
  }
  if (book.withdrawn.some((one) => one.id === id)) {
    throw new RigCheckError('refused', `${noun} ${id} is taken back already`, 'name another one');
  }
  return [...book.withdrawn, { id, at, who, why }];
}

/**
 * Changes a book on the disk. Writers at the same time wait for each other, and none loses anything.
 *
 * @param folder of the experiment
 * @param path of the book in it
 * @param change gives what the file shall hold, from what it holds by then
 * @param noun what an entry is called in messages
 * @throws RigCheckError where the file cannot be written, or what shall be kept is not complete
 */
export async function changeBook<T>(
  folder: string,
  path: string,
  schema: z.ZodType<T>,
  noun: string,
  change: () => Promise<unknown>,
): Promise<T> {
  try {
    if (await leadsOut(folder, path)) throw new RigCheckError('file', behindLink(path), noLinkOut);
    return await withFileLock(path, async () => {
      const read = schema.safeParse(await change());
      if (!read.success) {
        throw new RigCheckError('refused', `the ${noun} is not complete`, `mend ${firstFault(read.error)}`);
      }
      await writeAtomically(path, `${JSON.stringify(read.data, null, 2)}\n`);
      return read.data;
    });
  } catch (error) {
    if (error instanceof RigCheckError) throw error;
    throw new RigCheckError('file', `${path}: cannot be written (${reason(error)})`, 'check the folder');
  }
}
