/** A recording that cannot be archived, or an archive that is not what it was. */
export class ArchiveError extends Error {
  override readonly name = 'ArchiveError';
  /** What to do about it, in a sentence. */
  readonly mend: string;

  constructor(what: string, mend: string) {
    super(what);
    this.mend = mend;
  }
}
