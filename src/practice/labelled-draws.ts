import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus';
import { sha256Words } from './digest.ts';
import { type Random, randomFrom } from './random.ts';

/** What is drawn for one thing of a practice set; every draw is rounded, so that machines agree on it. */
export interface Draws {
  /** Uniform between two numbers. */
  between(low: number, high: number): number;
  /** Normal, cut off at two and a half standard deviations: nothing on a bench is farther off without being seen. */
  normal(mean: number, standardDeviation: number): number;
  /** A whole number from 0 to count - 1. */
  index(count: number): number;
  /** The same in another order. */
  shuffled<T>(list: readonly T[]): T[];
}

const cutOff = 2.5;

/**
 * Draws that belong to a label, such as group and body: what is drawn under other labels changes nothing in them.
 *
 * The whole seed goes into the state of 128 bits by SHA-256. A seed of 32 bits could be found from a recording by
 * trying all of them.
 *
 * @param seed any text
 * @param labels what the draws are for
 */
export function drawsFor(seed: string, ...labels: readonly (string | number)[]): Draws {
  const [a = 1, b = 0, c = 0, d = 0] = sha256Words(JSON.stringify([seed, ...labels]));
  return drawsFrom(randomFrom(xoroshiro128plusFromState([a | 0, b | 0, c | 0, d | 0])));
}

/** A seed of 32 bits for a single recording's noise, by the same labels. */
export function noiseSeed(seed: string, ...labels: readonly (string | number)[]): number {
  return sha256Words(JSON.stringify([seed, 'noise', ...labels]))[0] ?? 0;
}

/** Functions such as the logarithm may differ in the last digit between machines. */
export function roundedDraw(value: number): number {
  return Number(value.toPrecision(6));
}

function drawsFrom(random: Random): Draws {
  const index = (count: number) => Math.floor(random.uniform() * count);
  return {
    between: (low, high) => roundedDraw(low + (high - low) * random.uniform()),
    normal: (mean, standardDeviation) => {
      let draw = random.normal();
      while (Math.abs(draw) > cutOff) draw = random.normal();
      return roundedDraw(mean + standardDeviation * draw);
    },
    index,
    shuffled: (list) => {
      const order = [...list];
      for (let i = order.length - 1; i > 0; i--) {
        const j = index(i + 1);
        const [one, other] = [order[i], order[j]];
        if (one === undefined || other === undefined) continue;
        order[i] = other;
        order[j] = one;
      }
      return order;
    },
  };
}
