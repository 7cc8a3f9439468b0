import fc from 'fast-check';
import { expect, test } from 'vitest';
import { joinedPieces } from '../../src/store/joined-pieces.ts';

async function* coming(pieces: readonly Uint8Array[], failure: Error | null): AsyncGenerator<Uint8Array> {
  yield* pieces;
  if (failure !== null) throw failure;
}

const cut = fc.array(fc.uint8Array({ maxLength: 40 }), { maxLength: 30 });
const size = fc.integer({ min: 1, max: 100 });

test('the bytes are the same however they are cut, and whatever came before an error is there', async () => {
  await fc.assert(
    fc.asyncProperty(cut, size, fc.boolean(), async (pieces, least, breaks) => {
      const failure = breaks ? new Error('the line broke') : null;
      const joined: Uint8Array[] = [];
      let thrown: unknown = null;
      try {
        for await (const piece of joinedPieces(coming(pieces, failure), least)) joined.push(piece);
      } catch (error) {
        thrown = error;
      }
      expect(thrown).toBe(failure);
      expect(Buffer.concat(joined)).toEqual(Buffer.concat(pieces));
      expect(joined.every(({ length }) => length > 0)).toBe(true);
      expect(joined.slice(0, -1).every(({ length }) => length >= least)).toBe(true);
    }),
  );
});

test('who stops reading ends what comes', async () => {
  let ended = false;
  async function* endless(): AsyncGenerator<Uint8Array> {
    try {
      for (;;) yield new Uint8Array(10);
    } finally {
      ended = true;
    }
  }
  for await (const piece of joinedPieces(endless(), 25)) {
    expect(piece).toHaveLength(30);
    break;
  }
  expect(ended).toBe(true);
});
