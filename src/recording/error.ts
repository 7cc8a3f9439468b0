/** What kind of trouble a `RecordingError` is about. Stable: scripts may test for it. */
export type RecordingErrorCode =
  | 'archive-damaged'
  | 'archive-suspicious'
  | 'archive-unfit'
  | 'channel-needed'
  | 'channel-unknown'
  | 'empty'
  | 'line-too-long'
  | 'no-numbers'
  | 'not-a-file'
  | 'not-text'
  | 'numbers-ambiguous'
  | 'option-invalid'
  | 'rate-needed'
  | 'segment-unknown'
  | 'time-unit-needed'
  | 'time-unusable'
  | 'too-many-columns'
  | 'unreadable';

/** A recording that cannot be read at all, or only after the caller has made a choice. */
export class RecordingError extends Error {
  readonly code: RecordingErrorCode;
  /** The recording, as the caller called it. */
  readonly file: string;
  /** Line in the file, counted from 1; null where no line is to blame. */
  readonly line: number | null;
  /** What is wrong, in one sentence. */
  readonly what: string;
  /** What to do about it. */
  readonly mend: string;

  /**
   * @param file what the caller calls the recording
   * @param line line counted from 1, or null
   * @param what one sentence: what is wrong
   * @param mend one sentence: what to do
   * @param rows the first rows as they were understood, shown below the sentences
   */
  constructor(
    code: RecordingErrorCode,
    file: string,
    line: number | null,
    what: string,
    mend: string,
    rows = '',
  ) {
    const place = line === null ? file : `${file}, line ${line}`;
    super(`${place}: ${what} ${mend}${rows === '' ? '' : `\n${rows}`}`);
    this.name = 'RecordingError';
    this.code = code;
    this.file = file;
    this.line = line;
    this.what = what;
    this.mend = mend;
  }
}
