import { type Random, seededRandom } from './random.ts';

/** Gives every part of a trial a stream of random numbers of its own, by name. */
export type Streams = (part: string) => Random;

/**
 * Streams that come from one seed. A part's stream depends on the seed and on its name alone: what other parts draw
 * changes nothing in it.
 *
 * @param seed any integer
 */
export function streamsOf(seed: number): Streams {
  return (part) => {
    let hash = mixed(mixed(offsetBasis, seed), Math.floor(seed / 2 ** 32));
    for (let i = 0; i < part.length; i++) hash = mixed(hash, part.charCodeAt(i));
    return seededRandom(hash);
  };
}

/** FNV-1a with 32 bits (Fowler, Noll & Vo; constants from memory), a word at a time instead of a byte, with its bits scattered. */
const offsetBasis = 0x811c9dc5;
const prime = 0x01000193;

function mixed(hash: number, word: number): number {
  const product = Math.imul(hash ^ word, prime);
  return product ^ (product >>> 15);
}
