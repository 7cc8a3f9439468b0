import type { Context } from 'hono';
import { TransferError } from '../store/index.ts';

/**
 * The body of a request piece by piece. Held up by whoever reads it, never held in memory.
 *
 * @param stop ends it early, as if nothing more came
 * @throws TransferError where the sender went away
 */
export async function* piecesOf(
  body: ReadableStream<Uint8Array>,
  stop?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const reader = body.getReader();
  const end = () => void reader.cancel().catch(() => undefined);
  if (stop?.aborted === true) end();
  stop?.addEventListener('abort', end, { once: true });
  try {
    for (;;) {
      const read = await reader.read().catch(() => {
        throw cutOff;
      });
      if (read.done) return;
      yield read.value;
    }
  } finally {
    stop?.removeEventListener('abort', end);
    end();
  }
}

const cutOff = new TransferError(
  'cut-off',
  'The connection was lost before the last byte.',
  'Send it again, or go on with the transfer where it stopped.',
);

/** The size that a request announces for its body, bytes; null where it announces none. */
export function announcedBytes(c: Context): number | null {
  const text = c.req.header('content-length');
  return text !== undefined && /^\d{1,15}$/.test(text) ? Number(text) : null;
}
