import { describe, expect, it } from 'vitest';
import { roughDecay } from '../../src/decay/segment-exponential.ts';
import type { Series } from '../../src/decay/segment-series.ts';

/** Readings every 0.1 s without noise, of which only some are there, at times that may be off by a little. */
function cooling(there: (i: number) => boolean, off: (i: number) => number): Series {
  const time = Float64Array.from(
    Array.from({ length: 500 }, (_, i) => i)
      .filter(there)
      .map((i) => 0.1 * i + off(i)),
  );
  const value = time.map((t) => 22 + 70 * Math.exp(-t / 13));
  return { length: time.length, width: 0.1, time, value };
}

describe('a rough exponential', () => {
  it.each([
    { what: 'equally spaced', there: () => true, off: () => 0 },
    { what: 'with gaps', there: (i: number) => i < 100 || i > 180, off: () => 0 },
    { what: 'one in three', there: (i: number) => i % 3 === 0, off: () => 0 },
    { what: 'at times of their own', there: () => true, off: (i: number) => 0.03 * Math.sin(i * i) },
    { what: 'at times that are rounded', there: () => true, off: (i: number) => 1e-13 * (i % 7) },
  ])('is the one that the points lie on: $what', ({ there, off }) => {
    const points = cooling(there, off);
    const found = roughDecay(points, 0, points.length, null, 0.01);
    expect(found?.timeConstant).toBeCloseTo(13, 5);
    expect(found?.ambient).toBeCloseTo(22, 5);
    expect(found?.excess).toBeCloseTo(70 * Math.exp(-(points.time[0] ?? 0) / 13), 5);
  });
});
