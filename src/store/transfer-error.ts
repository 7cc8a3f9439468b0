/** What stands in the way of a transfer. */
export type TransferTrouble =
  /** It is not here, or not any more. */
  | 'gone'
  /** It goes on at another byte than the one that was named. */
  | 'out-of-step'
  /** A piece did not arrive as it was sent. */
  | 'damaged'
  /** The whole file is not the one that was announced. */
  | 'wrong-hash'
  /** More bytes than were announced. */
  | 'too-long'
  /** A larger file than is taken. */
  | 'too-large'
  /** One more than may lie here. */
  | 'too-many'
  /** The disk has no room, or refuses. */
  | 'no-room'
  /** The sender went away; what came is kept. */
  | 'cut-off';

/** A transfer that cannot be begun, or cannot go on: what is wrong, and what to do. */
export class TransferError extends Error {
  override readonly name = 'TransferError';
  readonly trouble: TransferTrouble;
  readonly mend: string;

  constructor(trouble: TransferTrouble, message: string, mend: string) {
    super(message);
    this.trouble = trouble;
    this.mend = mend;
  }
}
