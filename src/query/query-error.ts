/** A question that cannot be answered; the message says why, the mend what to do. */
export class QueryError extends Error {
  override readonly name = 'QueryError';
  /** `slow`: stopped by its limit of time. `stuck`: it did not stop when it was told to, and still goes on. */
  readonly kind: 'empty' | 'unfit' | 'slow' | 'stuck';
  readonly mend: string;

  constructor(kind: QueryError['kind'], what: string, mend: string) {
    super(what);
    this.kind = kind;
    this.mend = mend;
  }
}
