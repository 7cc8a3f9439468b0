import { describe, expect, test } from 'vitest';
import { ArrivalRate } from '../../src/floor/arrival-rate.ts';

/** A logger at a rate in Hz that writes every so many ms, from a moment to another, ms. */
function arriving(rate: number, every: number, from: number, to: number, arrivals = new ArrivalRate()) {
  for (let at = from; at <= to; at += every) arrivals.add(at, Math.floor((rate * at) / 1000));
  return arrivals;
}

describe('the rate at which readings arrive', () => {
  test.each([
    [1, 1000],
    [20, 1000],
    [1000, 500],
    [10_000, 500],
  ])('is that of the logger, %d Hz in pieces of %d ms', (rate, every) => {
    expect(arriving(rate, every, 0, 30_000).rate).toBeCloseTo(rate, 6);
  });

  test('is not known before ten seconds and eight arrivals', () => {
    expect(new ArrivalRate().rate).toBeNull();
    expect(arriving(20, 500, 0, 9500).rate).toBeNull();
    expect(arriving(20, 500, 0, 10_000).rate).toBeCloseTo(20, 6);
    expect(arriving(20, 5000, 0, 30_000).rate).toBeNull();
    expect(arriving(20, 5000, 0, 35_000).rate).toBeCloseTo(20, 6);
  });

  test('is that of the last minute, and of nothing before', () => {
    const changed = arriving(10, 1000, 0, 30_000);
    const before = 300;
    for (let second = 1; second <= 61; second++) changed.add(30_000 + 1000 * second, before + 40 * second);
    expect(changed.rate).toBeCloseTo(40, 6);
  });

  test('counts one moment once', () => {
    const arrivals = arriving(20, 1000, 0, 12_000);
    const { rate } = arrivals;
    arrivals.add(12_000, 1e6);
    expect(arrivals.rate).toBe(rate);
  });

  test('is forgotten with the file', () => {
    const arrivals = arriving(20, 1000, 0, 30_000);
    arrivals.forget();
    expect(arrivals.rate).toBeNull();
    expect(arriving(50, 1000, 40_000, 60_000, arrivals).rate).toBeCloseTo(50, 6);
  });
});
