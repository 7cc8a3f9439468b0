import { beforeAll, describe, expect, test } from 'vitest';
import { type ForecastFacts, forecastOf } from '../../src/live/forecast.ts';
import { forecastsOf, holds, type JudgedForecast } from './forecasts.ts';
import { trialsOf } from './trials.ts';

const cooling: ForecastFacts = {
  time: 100,
  end: { time: 142, standardUncertainty: 1, interval: [140, 144], coverage: 0.95 },
  planned: { value: 30, standardUncertainty: 3, interval: [25, 37] },
  peak: 90,
  endFraction: 0.1,
};

describe('what a cooling will still take', () => {
  test('is what its fit says, whatever was planned', () => {
    expect(forecastOf(cooling)).toEqual({ remaining: 42, interval: [40, 44], coverage: 0.95, from: 'fit' });
  });

  test('without a fit it is the planned time constant from the peak on', () => {
    const forecast = forecastOf({ ...cooling, end: null });
    expect(forecast?.remaining).toBeCloseTo(90 + 30 * Math.LN10 - 100, 4);
    expect(forecast?.interval[0]).toBeCloseTo(90 + 25 * Math.LN10 - 100, 4);
    expect(forecast?.interval[1]).toBeCloseTo(90 + 37 * Math.LN10 - 100, 4);
    expect(forecast?.from).toBe('expected');
  });

  test('is never less than nothing, and open at the top where the plan is', () => {
    expect(forecastOf({ ...cooling, time: 143 })).toMatchObject({ remaining: 0, interval: [0, 1] });
    const open = { value: 30, standardUncertainty: 20, interval: [10, Number.POSITIVE_INFINITY] } as const;
    const forecast = forecastOf({ ...cooling, end: null, planned: open });
    expect(forecast?.interval[1]).toBe(Number.POSITIVE_INFINITY);
  });

  test('is not known without fit and plan, or without a peak', () => {
    expect(forecastOf({ ...cooling, end: null, planned: null })).toBeNull();
    expect(forecastOf({ ...cooling, end: null, peak: null })).toBeNull();
  });
});

describe('forecasts of simulated trials, each of a rig of its own, fed second by second', () => {
  const fractions = [0.7, 0.5, 0.3, 0.2];
  const rigs = 12;
  let judged: readonly JudgedForecast[] = [];
  beforeAll(() => {
    judged = Array.from({ length: rigs }, (_, rig) =>
      trialsOf(`forecast ${rig}`, null, { conditions: [{ body: 'aluminium-12', flow: '120' }], rate: 5 }),
    )
      .flat()
      .flatMap((trial) => forecastsOf(trial, fractions));
  }, 120_000);

  test('hold the true end about as often as they say', () => {
    expect(judged.length).toBe(rigs * fractions.length);
    const share = (some: readonly JudgedForecast[]) =>
      some.filter(({ forecast, remaining }) => holds(forecast, remaining)).length / some.length;
    // The four of a trial go together: as if there were 24, 0.95 less three standard deviations of their share.
    expect(share(judged)).toBeGreaterThan(0.82);
    // Of 12, less than 9 come about by chance twice in a thousand times (binomial distribution).
    for (const fraction of fractions) {
      expect(
        share(judged.filter((one) => one.fraction === fraction)),
        `at ${fraction}`,
      ).toBeGreaterThanOrEqual(0.75);
    }
  });

  test('come from the fit soon, and grow narrow', () => {
    const narrow = (fraction: number) => {
      const own = judged.filter((one) => one.fraction === fraction);
      const parts = own.map(
        ({ forecast: { interval }, remaining }) => (interval[1] - interval[0]) / remaining,
      );
      return {
        fits: own.filter(({ forecast }) => forecast.from === 'fit').length,
        parts: parts.sort((a, b) => a - b),
      };
    };
    for (const fraction of [0.5, 0.3, 0.2]) {
      const { fits, parts } = narrow(fraction);
      expect(fits, `at ${fraction}`).toBeGreaterThanOrEqual(0.75 * rigs);
      // Of what is left, for half of the trials.
      expect(parts[rigs / 2], `at ${fraction}`).toBeLessThan(0.12);
    }
  });
});
