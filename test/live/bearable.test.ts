import { describe, expect, test } from 'vitest';
import { fitDecay } from '../../src/decay/index.ts';
import { ambientLeverage, bearableZeroShift } from '../../src/live/bearable.ts';

describe('how much an ambient moves a time constant', () => {
  // A simulation study of cooling curves, to three figures: length in time constants, d ln tau / d ambient × step.
  test.each([
    [1, 1.58],
    [1.6, 1.99],
    [2.3, 2.48],
    [3, 2.93],
    [4, 3.43],
    [5, 3.72],
    [8, 3.98],
  ])('over %d time constants the leverage is %d', (length, leverage) => {
    expect(Math.abs(ambientLeverage(length) - leverage)).toBeLessThan(0.0051);
  });

  test('of an endless record the leverage is 4, the integrals from 0 to infinity being 1/4, 1/4, 1/2, 1 and 1', () => {
    expect(ambientLeverage(60)).toBeCloseTo(4, 12);
  });

  test('no length, no leverage', () => {
    expect(ambientLeverage(0)).toBeNaN();
    expect(ambientLeverage(Number.NaN)).toBeNaN();
  });

  test('a zero that moves by the bearable shift between baseline and cooling moves the fitted time constant by 1 %', () => {
    const tau = 40;
    const step = 75;
    const shift = bearableZeroShift(step, 0.1);
    const time = Float64Array.from({ length: 921 }, (_, i) => 0.05 + i * 0.1);
    const fitWith = (ambient: number) => {
      const fit = fitDecay({
        time,
        // A hair of noise, else the fit has no variance to weigh by.
        value: time.map((t, i) => 20 + step * Math.exp(-t / tau) + (i % 2 === 0 ? 1e-3 : -1e-3)),
        blockWidth: 0.1,
        baseline: null,
        ambient: { kind: 'given', value: ambient, standardUncertainty: 1e-7 },
        driftUncertainty: 1e-12,
        guess: { timeConstant: 38, ambient: 20, amplitude: 70 },
      });
      if (fit.kind === 'failed') throw new Error(fit.message);
      return fit.timeConstant;
    };
    expect(fitWith(20 + shift) / fitWith(20)).toBeCloseTo(0.99, 3);
    expect(fitWith(20 - shift) / fitWith(20)).toBeCloseTo(1.01, 3);
  });
});
