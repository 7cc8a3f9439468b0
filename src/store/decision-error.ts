/** A decision that cannot be read or kept; the message says why and what to do. */
export class DecisionError extends Error {
  override readonly name = 'DecisionError';
  /** `file`: what is kept cannot be read or written. `refused`: this decision cannot be made. */
  readonly kind: 'file' | 'refused';
  /** What is wrong. */
  readonly what: string;
  /** What to do. */
  readonly mend: string;

  constructor(kind: 'file' | 'refused', what: string, mend: string) {
    super(`${what}; ${mend}`);
    this.kind = kind;
    this.what = what;
    this.mend = mend;
  }
}
