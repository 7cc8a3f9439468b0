import type { RemarkCode } from './catalogue.ts';

/**
 * How much a remark matters. `note`: good to know. `caution`: the number can be used, with this in mind.
 * `repeat`: the recording cannot carry a time constant that would be defended.
 */
export type Severity = 'note' | 'caution' | 'repeat';

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
