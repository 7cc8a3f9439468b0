import type { LongWork } from '../analysis/index.ts';
import { CoolingError, type MadeFile, makeExport } from '../export/index.ts';
import { makeDocument } from '../report/index.ts';
import { asProblem } from './as-problem.ts';
import type { DownloadAnswer, DownloadOrder } from './download-order.ts';
import { RequestProblem } from './problem.ts';

/**
 * Makes a document or an export of a folder.
 *
 * @throws RequestProblem where it cannot be made; the reason of the signal where it is broken off
 */
export async function makeDownload(folder: string, order: DownloadOrder, work: LongWork): Promise<MadeFile> {
  try {
    switch (order.kind) {
      case 'results':
      case 'cooling':
      case 'figure':
        return await makeExport(folder, order, work);
      default:
        return await makeDocument(folder, order, work);
    }
  } catch (error) {
    if (error instanceof CoolingError) throw new RequestProblem('unfit', error.message, error.mend);
    throw asProblem(error, folder);
  }
}

/** The same as an answer that another process understands; nothing is thrown. */
export async function answerDownload(folder: string, order: DownloadOrder): Promise<DownloadAnswer> {
  try {
    const { name, type, bytes, remarks } = await makeDownload(folder, order, {});
    return { kind: 'made', file: { name, type, bytes, remarks: [...remarks] } };
  } catch (error) {
    if (error instanceof RequestProblem) {
      const { kind, message, mend, faults } = error;
      return {
        kind: 'refused',
        problem: { kind, detail: message, mend, ...(faults === undefined ? {} : { faults }) },
      };
    }
    return {
      kind: 'fault',
      what: error instanceof Error ? (error.stack ?? error.message) : String(error),
    };
  }
}
