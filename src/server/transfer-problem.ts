import { TransferError, type TransferTrouble, UploadTooLargeError } from '../store/index.ts';
import { diskProblem } from './keeping.ts';
import { type ProblemKind, RequestProblem } from './problem.ts';

const kinds: Readonly<Record<TransferTrouble, ProblemKind>> = {
  gone: 'unknown-upload',
  'out-of-step': 'out-of-step',
  damaged: 'damaged',
  'wrong-hash': 'wrong-hash',
  'too-long': 'too-large',
  'too-large': 'too-large',
  'too-many': 'too-many',
  'no-room': 'cannot-write',
  'cut-off': 'bad-request',
};

/** What stands in the way of a file that is handed over, as an answer. */
export function transferProblem(error: unknown): unknown {
  if (error instanceof TransferError) {
    return new RequestProblem(kinds[error.trouble], error.message, error.mend);
  }
  if (error instanceof UploadTooLargeError) {
    return new RequestProblem(
      'too-large',
      error.message,
      'Pack it with gzip, or put it into the folder of recordings by hand.',
    );
  }
  return diskProblem(error);
}
