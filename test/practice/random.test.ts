import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/practice/random.ts';

describe('a seeded stream', () => {
  test('is the same for the same seed and another for another', () => {
    const first = (seed: number) => {
      const random = seededRandom(seed);
      return [random.uniform(), random.normal(), random.uniform()];
    };
    expect(first(7)).toEqual(first(7));
    expect(first(7)).not.toEqual(first(8));
  });

  test('first numbers of neighbouring and of regularly spaced seeds are independent', () => {
    for (const step of [1, 7919]) {
      const values = Array.from({ length: 2000 }, (_, i) => seededRandom(100_000 + step * i).normal());
      const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
      const variance = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (values.length - 1);
      // Four standard errors of the mean and of the variance of 2000 standard normals.
      expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(2000));
      expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / 2000));
      let lag = 0;
      for (let i = 1; i < values.length; i++) lag += (values[i] ?? 0) * (values[i - 1] ?? 0);
      expect(Math.abs(lag / values.length)).toBeLessThan(4 / Math.sqrt(2000));
    }
  });

  test('uniform numbers fill the unit interval, normals have their moments', () => {
    const random = seededRandom(3);
    const uniforms = Array.from({ length: 20_000 }, () => random.uniform());
    expect(Math.min(...uniforms)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...uniforms)).toBeLessThan(1);
    expect(uniforms.reduce((sum, x) => sum + x, 0) / 20_000).toBeCloseTo(0.5, 1);
    const normals = Array.from({ length: 20_000 }, () => random.normal());
    const kurtosis = normals.reduce((sum, x) => sum + x ** 4, 0) / 20_000;
    // Fourth moment of the standard normal: 3, with a standard error of sqrt(96/n).
    expect(Math.abs(kurtosis - 3)).toBeLessThan(4 * Math.sqrt(96 / 20_000));
  });
});
