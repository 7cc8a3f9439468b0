import type { RemarkCode } from './catalogue.ts';
import type { Severity } from './severity.ts';

/** A stretch of a recording, in seconds from its first sample. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** The one way in which anything speaks to a person about their data. */
export interface Remark {
  readonly code: RemarkCode;
  readonly severity: Severity;
  /** One sentence: what was seen, with its number. */
  readonly message: string;
  /** One sentence: what to do. */
  readonly action: string;
  /** The place in the recording that it is about, s, if it has one. */
  readonly at?: Span;
}
