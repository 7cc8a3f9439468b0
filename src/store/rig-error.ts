/** A check of a rig that cannot be read or kept; the message says why and what to do. */
export class RigCheckError extends Error {
  override readonly name = 'RigCheckError';
  /** `file`: what is kept cannot be read or written. `refused`: this cannot be kept. */
  readonly kind: 'file' | 'refused';
  /** What to do. */
  readonly mend: string;

  constructor(kind: 'file' | 'refused', what: string, mend: string) {
    super(`${what}; ${mend}`);
    this.kind = kind;
    this.mend = mend;
  }
}
