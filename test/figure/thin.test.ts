import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sparse, thinCurve } from '../../src/figure/index.ts';

describe('thinning', () => {
  it('leaves a short curve as it is, without what is not finite', () => {
    const thin = thinCurve({ time: [0, 1, 2, Number.NaN], value: [5, Number.POSITIVE_INFINITY, 7, 1] }, 10);
    expect(thin).toEqual({ time: [0, 2], value: [5, 7], low: [5, 7], high: [5, 7] });
  });

  it('averages equal stretches of time and keeps their extremes', () => {
    // Ten readings over 9 s in 2 stretches of 4.5 s: readings 0 to 4, and 5 to 9.
    const time = Array.from({ length: 10 }, (_, i) => i);
    expect(thinCurve({ time, value: time.map((t) => t * t) }, 2)).toEqual({
      time: [2, 7],
      value: [6, 51],
      low: [0, 25],
      high: [16, 81],
    });
  });

  it('never gives more points than wanted, nor values outside the readings', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 200 }),
        fc.integer({ min: 1, max: 50 }),
        (value, most) => {
          const thin = thinCurve({ time: value.map((_, i) => i), value }, most);
          expect(thin.time.length).toBeLessThanOrEqual(most);
          expect(Math.min(...thin.low)).toBe(Math.min(...value));
          expect(Math.max(...thin.high)).toBe(Math.max(...value));
        },
      ),
    );
  });

  it('picks evenly, ends included', () => {
    expect(sparse([0, 1, 2, 3, 4, 5, 6, 7, 8], 3)).toEqual([0, 4, 8]);
    expect(sparse([1, 2], 5)).toEqual([1, 2]);
  });
});
