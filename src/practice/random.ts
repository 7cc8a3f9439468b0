import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';

/** A stream of random numbers that is the same on every machine for the same seed. */
export interface Random {
  /** Uniform on [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
}

/** First numbers that are thrown away, until the generator's state is well mixed. */
const discarded = 64;

/**
 * Scatters the bits of a seed (the finalizer of MurmurHash3, 32 bit, Appleby, public domain; constants from
 * memory): streams of neighbouring seeds would resemble each other.
 */
function scatter(seed: number): number {
  let x = seed | 0;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return x ^ (x >>> 16);
}

/**
 * A seeded stream: xoroshiro128+, normals by the polar method (Marsaglia & Bray, 1964).
 *
 * @param seed any integer; equal seeds give equal streams
 */
export function seededRandom(seed: number): Random {
  return randomFrom(xoroshiro128plus(scatter(seed)));
}

/**
 * A stream from a generator of random bits.
 *
 * @param generator that nothing else draws from
 */
export function randomFrom(generator: RandomGenerator): Random {
  let spare: number | null = null;
  const uniform = () => uniformFloat64(generator);
  for (let i = 0; i < discarded; i++) uniform();
  const normal = (): number => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    let u: number;
    let v: number;
    let s: number;
    do {
      u = 2 * uniform() - 1;
      v = 2 * uniform() - 1;
      s = u * u + v * v;
    } while (s >= 1 || s === 0);
    const factor = Math.sqrt((-2 * Math.log(s)) / s);
    spare = v * factor;
    return u * factor;
  };
  return { uniform, normal };
}
