/** Pieces are joined to so many bytes at least: a call to the disk costs about the same for few bytes as for many. */
const usualSize = 1 << 19;

/**
 * Joins what comes in small pieces, as a line under TLS brings them, to larger ones. Nothing is lost where they end
 * early: what came before an error goes on ahead of it.
 *
 * @param size bytes of a joined piece at least, but for the last; > 0
 * @throws Error whatever the pieces end with
 */
export async function* joinedPieces(
  pieces: AsyncIterable<Uint8Array>,
  size: number = usualSize,
): AsyncGenerator<Uint8Array> {
  let waiting: Uint8Array[] = [];
  let bytes = 0;
  const joined = (): Uint8Array => {
    const whole = Buffer.concat(waiting, bytes);
    waiting = [];
    bytes = 0;
    return whole;
  };
  try {
    for await (const piece of pieces) {
      waiting.push(piece);
      bytes += piece.length;
      if (bytes >= size) yield joined();
    }
  } catch (error) {
    if (bytes > 0) yield joined();
    throw error;
  }
  if (bytes > 0) yield joined();
}
