import { RecordingError } from '../recording/index.ts';
import { ChainError } from '../sensing/index.ts';
import { SensorError } from './sensor-error.ts';

/** A recording that the folder does not have, or whose path does not say what it is of. */
export class UnknownRecordingError extends Error {
  override readonly name = 'UnknownRecordingError';
  readonly mend = 'Take one of the list; a file that is new appears there after the folder is read again.';

  constructor(path: string) {
    super(`There is no recording ${JSON.stringify(path.slice(0, 200))} in this experiment.`);
  }
}

/** A group that neither the experiment file nor the path of a recording names. */
export class UnknownGroupError extends Error {
  override readonly name = 'UnknownGroupError';
  readonly mend: string;

  /** @param known the groups that there are */
  constructor(group: string, known: readonly string[]) {
    super(`There is no group ${JSON.stringify(group.slice(0, 100))} in this experiment.`);
    const shown = known.slice(0, 30).map((one) => one.slice(0, 100));
    this.mend =
      shown.length === 0
        ? 'Ask for all recordings: none of them belongs to a group.'
        : `Take one of ${shown.join(', ')}${known.length > shown.length ? ' and others' : ''}.`;
  }
}

/** Whether an error says that a recording cannot be read, or not in degrees. */
export function isUnread(error: unknown): boolean {
  return error instanceof RecordingError || error instanceof SensorError || error instanceof ChainError;
}
