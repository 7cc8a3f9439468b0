import { describe, expect, test } from 'vitest';
import { decayStrip } from '../../src/analysis/strip.ts';

const timeConstant = {
  value: 40,
  standardUncertainty: 0.2,
  interval: [39.6, 40.4] as const,
  coverage: 0.95,
  degreesOfFreedom: 100,
  method: 'exponential-fit' as const,
};

/** One exponential whose heat went off at 62 s, from the moment at which it had come down to some error fraction. */
function coolingFrom(first: number) {
  const begin = 62 - timeConstant.value * Math.log(first);
  return Array.from({ length: 200 }, (_, i) => {
    const time = begin + i;
    const errorFraction = Math.exp(-(time - 62) / timeConstant.value);
    return {
      time,
      temperature: 22 + 90 * errorFraction,
      errorFraction,
      fitted: errorFraction,
      residual: 0,
      band: 0,
    };
  });
}

describe('the strip of a decay', () => {
  // ln of the error fraction is −t / tau for one exponential: on the scale of tau all lie on y = −x.
  test.each([1, 0.9, 0.6, 0.3])('lies on the line of slope −1 through the origin, begun at %f', (first) => {
    const { x, y } = decayStrip({ points: coolingFrom(first), timeConstant }) ?? { x: [], y: [] };
    expect(x.length).toBeGreaterThan(10);
    for (const [i, px] of x.entries())
      expect(Math.abs(px + (y[i] ?? Number.NaN))).toBeLessThanOrEqual(0.0011);
    // The first of 40 means over some three time constants at most.
    expect(x[0]).toBeGreaterThanOrEqual(-Math.log(first) - 0.001);
    expect(x[0]).toBeLessThan(-Math.log(first) + 3 / 40);
  });

  test('is not moved by readings that lie beside the fit', () => {
    const points = coolingFrom(0.8).map((point) => ({ ...point, errorFraction: 1.1 * point.errorFraction }));
    const { x, y } = decayStrip({ points, timeConstant }) ?? { x: [], y: [] };
    for (const [i, px] of x.entries()) expect((y[i] ?? Number.NaN) + px).toBeCloseTo(Math.log(1.1), 2);
  });

  test('is none without a time constant, and empty without points', () => {
    expect(decayStrip({ points: coolingFrom(1), timeConstant: null })).toBeNull();
    expect(decayStrip({ points: [], timeConstant })).toEqual({ x: [], y: [] });
  });
});
