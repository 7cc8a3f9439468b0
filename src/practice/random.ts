import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A stream of random numbers that is the same on every machine for the same seed. */
export interface Random {
  /** Uniform on [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
}

/**
 * A seeded stream: xoroshiro128+, normals by the polar method (Marsaglia & Bray, 1964).
 *
 * @param seed any integer; equal seeds give equal streams
 */
export function seededRandom(seed: number): Random {
  const generator = xoroshiro128plus(seed);
  let spare: number | null = null;
  const uniform = () => uniformFloat64(generator);
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
