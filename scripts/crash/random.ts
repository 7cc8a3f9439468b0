import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** Draws uniform on (0, 1), the same ones for the same seed. */
export type Draw = () => number;

export function drawsFrom(seed: number): Draw {
  const generator = xoroshiro128plus(seed);
  return () => ((generator.next() >>> 0) + 0.5) * 2 ** -32;
}
