import { describe, expect, it } from 'vitest';
import { chiSquareQuantile, normalQuantile } from '../../src/quantity/index.ts';
import { randomStream } from '../../src/quantity/random.ts';

const count = 200_000;
const drawn = (fill: 'fillNormal' | 'fillUniform', seed = 3) => {
  const column = new Float64Array(count);
  randomStream(seed)[fill](column, count);
  return column;
};

describe('a stream of random numbers', () => {
  it('is the same for the same seed and another for another', () => {
    const [first, again, other] = [drawn('fillNormal'), drawn('fillNormal'), drawn('fillNormal', 4)];
    expect(first.every((x, i) => x === again[i])).toBe(true);
    expect(first.filter((x, i) => x === other[i]).length).toBeLessThan(5);
  });

  it('has nothing in common with the stream of a neighbouring seed', () => {
    // Correlation of independent draws: standard error 1/√n.
    const a = drawn('fillNormal', 100);
    const b = drawn('fillNormal', 101);
    const sum = a.reduce((total, x, i) => total + x * (b[i] ?? 0), 0);
    expect(Math.abs(sum / count)).toBeLessThan(4 / Math.sqrt(count));
  });

  it('starts evenly over seeds that follow each other', () => {
    const bins = new Float64Array(20);
    for (let seed = 0; seed < 4000; seed++) {
      const bin = Math.floor(20 * randomStream(seed).uniform());
      bins[bin] = (bins[bin] ?? 0) + 1;
    }
    expect(chiSquareOf(bins, 4000)).toBeLessThan(chiSquareQuantile(0.9995, 19));
  });

  it('fills the uniform distribution evenly', () => {
    const bins = new Float64Array(64);
    for (const x of drawn('fillUniform')) {
      if (!(x > 0 && x < 1)) throw new Error(`${x} lies outside`);
      bins[Math.floor(64 * x)] = (bins[Math.floor(64 * x)] ?? 0) + 1;
    }
    expect(chiSquareOf(bins)).toBeLessThan(chiSquareQuantile(0.9995, 63));
  });

  it('fills the normal distribution evenly', () => {
    const edges = Array.from({ length: 127 }, (_, i) => normalQuantile((i + 1) / 128));
    const sorted = drawn('fillNormal').sort();
    const bins = new Float64Array(128);
    let bin = 0;
    for (const x of sorted) {
      while (x > (edges[bin] ?? Number.POSITIVE_INFINITY)) bin++;
      bins[bin] = (bins[bin] ?? 0) + 1;
    }
    expect(chiSquareOf(bins)).toBeLessThan(chiSquareQuantile(0.9995, 127));
  });

  it('has the tails of the normal distribution', () => {
    // Two-sided tail probabilities of Abramowitz & Stegun (1964), Table 26.1: beyond 3 0.0026998, 3.5 4.6526e-4,
    // 4 6.3342e-5. The last two lie in the tail that is drawn apart, from 3.44 on.
    const column = drawn('fillNormal');
    for (const [beyond, probability] of [
      [3, 0.0026998],
      [3.5, 4.6526e-4],
      [4, 6.3342e-5],
    ] as const) {
      for (const side of [1, -1]) {
        const found = column.filter((x) => side * x > beyond).length;
        const expected = (count * probability) / 2;
        expect(Math.abs(found - expected)).toBeLessThan(3.5 * Math.sqrt(expected));
      }
    }
    // Moments 2 and 4 are 1 and 3, with variances 2/n and 96/n.
    const moment = (power: number) => column.reduce((sum, x) => sum + x ** power, 0) / count;
    expect(Math.abs(moment(1))).toBeLessThan(3.5 / Math.sqrt(count));
    expect(Math.abs(moment(2) - 1)).toBeLessThan(3.5 * Math.sqrt(2 / count));
    expect(Math.abs(moment(4) - 3)).toBeLessThan(3.5 * Math.sqrt(96 / count));
  });
});

function chiSquareOf(bins: Float64Array, drawn = count): number {
  const expected = drawn / bins.length;
  return bins.reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0);
}
