import type { Context } from 'hono';
import { admitFile, usualUploadLimits, type WaitingFile } from '../store/index.ts';
import { callerOf } from './access/caller.ts';
import { announcedBytes, piecesOf } from './bodies.ts';
import type { ServerContext } from './context.ts';
import { ownerOf } from './owner.ts';
import { RequestProblem } from './problem.ts';
import { transferProblem } from './transfer-problem.ts';

/**
 * Takes the body of a request as a file that waits, within the limits on size, number and rate of whoever sends it.
 *
 * @param name what the file is called
 * @throws RequestProblem where it is empty, too large, or one too many
 */
export async function takeIn(c: Context, name: string, context: ServerContext): Promise<WaitingFile> {
  const { folder, uploads, transfers, uploadRate, largestUpload } = context;
  const owner = ownerOf(callerOf(c));
  const { body } = c.req.raw;
  if (body === null) {
    throw new RequestProblem('bad-request', 'The file is empty.', 'Check that the logger was recording.');
  }
  await uploadRate.begin(owner);
  await uploads.sweep(Date.now());
  const limits = { ...usualUploadLimits, largest: largestUpload };
  return uploadRate
    .taking(owner, async () => {
      await admitFile(folder, await transfers.held(), { owner, bytes: announcedBytes(c) ?? 0 }, limits);
      return uploads.take({ name, owner }, piecesOf(body), largestUpload);
    })
    .catch((error: unknown) => {
      throw transferProblem(error);
    });
}
