/** A part of the package that comes as a binary, one for each kind of machine. */
export interface BinaryPart {
  /** What cannot be done without it. */
  readonly makes: string;
  /** The package that brings it. */
  readonly packageName: string;
  /** What can be done instead where no binary of it fits the machine. */
  readonly instead: string;
}

/** A part that comes as a binary is not there, or does not run on this machine. */
export class MissingPartError extends Error {
  override readonly name = 'MissingPartError';
  readonly what: string;
  readonly mend: string;

  constructor(part: BinaryPart, cause: unknown) {
    const what = `${part.makes} needs the package ${part.packageName}, which cannot be loaded on this machine (${reasonOf(cause)}).`;
    const mend = `Install Emberline again with its optional packages (npm install --include=optional); where none fits the machine, ${part.instead}.`;
    super(`${what} ${mend}`, { cause });
    this.what = what;
    this.mend = mend;
  }
}

/**
 * A part that comes as a binary. It is loaded only where it is needed: such parts weigh tens of megabytes, and
 * everything else works without them.
 *
 * @param load imports it
 * @throws MissingPartError where it cannot be loaded
 */
export async function binaryPart<T>(part: BinaryPart, load: () => Promise<T>): Promise<T> {
  try {
    return await load();
  } catch (error) {
    throw new MissingPartError(part, error);
  }
}

/** The first sentence of a loader's message: what follows lists where it looked. */
function reasonOf(cause: unknown): string {
  const line = (cause instanceof Error ? cause.message : String(cause)).split('\n', 1)[0] ?? '';
  return line.replace(/ (?:imported from|Require stack).*/, '').replace(/\.$/, '');
}
