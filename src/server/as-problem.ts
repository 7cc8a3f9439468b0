import {
  SensorError,
  UnknownGroupError,
  UnknownRecordingError,
  UnknownSectionError,
} from '../analysis/index.ts';
import { RecordingError } from '../recording/index.ts';
import { MissingPartError } from '../remark/index.ts';
import { ChainError } from '../sensing/index.ts';
import { DecisionError, ExperimentFileError } from '../store/index.ts';
import { RequestProblem } from './problem.ts';

/**
 * An error of the rooms below as an answer to a request, where it is about the request or the folder; any other error as
 * it is. Where the folder lies on the disk is left out: the page knows it by its name.
 */
export function asProblem(error: unknown, folder: string): unknown {
  const plain = (text: string) => text.replaceAll(`${folder}/`, '').replaceAll(`${folder}\\`, '');
  if (error instanceof DecisionError) {
    const kind = error.kind === 'file' ? 'cannot-write' : 'unfit';
    return new RequestProblem(kind, sentence(plain(error.what)), sentence(plain(error.mend)));
  }
  if (error instanceof RecordingError) {
    const line = error.line === null ? '' : `Line ${error.line}: `;
    return new RequestProblem('unreadable', `${line}${plain(error.what)}`, plain(error.mend));
  }
  if (error instanceof MissingPartError) return new RequestProblem('missing-part', error.what, error.mend);
  if (error instanceof SensorError) {
    return new RequestProblem('unreadable', sentence(plain(error.what)), sentence(plain(error.mend)));
  }
  if (error instanceof ChainError) {
    return new RequestProblem(
      'unreadable',
      plain(error.message),
      'Say it under sensor in the experiment file.',
    );
  }
  if (error instanceof UnknownRecordingError) {
    return new RequestProblem('unknown-recording', plain(error.message), error.mend);
  }
  if (error instanceof UnknownSectionError) {
    return new RequestProblem('bad-request', error.message, error.mend);
  }
  if (error instanceof UnknownGroupError) return new RequestProblem('bad-request', error.message, error.mend);
  if (error instanceof ExperimentFileError) {
    return new RequestProblem(
      'faults',
      'The experiment file has faults: nothing can be made by it.',
      'Mend the lines that are named.',
      [...error.faults],
    );
  }
  return error;
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
}
