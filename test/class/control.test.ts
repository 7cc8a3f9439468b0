import { describe, expect, test } from 'vitest';
import { ewmaChart, individualsChart, processChange } from '../../src/class/index.ts';
import { seededRandom } from '../../src/practice/random.ts';

const series = (values: readonly number[]) => values.map((value, at) => ({ at, value }));

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 and 6.3.2.4 (data and results from memory; they follow from
// each other).
const batches = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
const monitored = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, ...batches];
const averages = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
  49.92, 50.73, 51.23, 51.94, 51.99,
];

describe('a chart of single values', () => {
  test("has the handbook's limits", () => {
    const chart = individualsChart(series(batches));
    expect(chart.meanMovingRange).toBeCloseTo(1.8778, 4);
    expect(chart.limits.centre).toBeCloseTo(50.81, 6);
    expect(chart.limits.upper).toBeCloseTo(55.8041, 3);
    expect(chart.limits.lower).toBeCloseTo(45.8159, 3);
    expect(chart.outside).toEqual([]);
  });

  test('names points outside limits of earlier terms', () => {
    const chart = individualsChart(series([10, 10.1, 12, 9.9]), { centre: 10, deviation: 0.2 });
    expect(chart.outside).toEqual([2]);
    expect(chart.ranges).toEqual([2, 3]);
  });
});

describe('an EWMA chart', () => {
  test("has the handbook's averages and limits", () => {
    const chart = ewmaChart(series(monitored), 0.3, { centre: 50, deviation: 2.0539 });
    chart.averages.forEach((value, i) => {
      expect(Math.abs(value - (averages[i] ?? 0))).toBeLessThan(0.011);
    });
    // The handbook gives the limits that the chart comes to when it has filled.
    expect(chart.limits.at(-1)?.upper).toBeCloseTo(52.5884, 2);
    expect(chart.limits.at(-1)?.lower).toBeCloseTo(47.4115, 2);
  });
});

describe('a change of a process', () => {
  const random = seededRandom(11);
  const noise = (count: number, deviation = 1) =>
    Array.from({ length: count }, () => deviation * random.normal());

  test('is seldom seen where there is none', () => {
    let seen = 0;
    for (let i = 0; i < 1000; i++) if (processChange(series(noise(20))) !== null) seen += 1;
    expect(seen / 1000).toBeLessThan(0.05);
  });

  test('is a step where the value jumps, dated to two points', () => {
    let right = 0;
    for (let i = 0; i < 200; i++) {
      const change = processChange(series([...noise(12), ...noise(12).map((x) => x + 4)]));
      if (change?.kind === 'step' && Math.abs(change.index - 12) <= 2 && change.size > 2.5) right += 1;
    }
    expect(right / 200).toBeGreaterThan(0.9);
  });

  test('is a drift where the value wanders steadily', () => {
    let right = 0;
    for (let i = 0; i < 200; i++) {
      if (processChange(series(noise(24).map((x, k) => x + 0.3 * k)))?.kind === 'drift') right += 1;
    }
    expect(right / 200).toBeGreaterThan(0.8);
  });

  test('is one of the spread where only that grows', () => {
    let right = 0;
    for (let i = 0; i < 100; i++) {
      const change = processChange(series([...noise(30), ...noise(30, 8)]));
      if (change?.kind === 'spread' && change.size > 2) right += 1;
    }
    expect(right / 100).toBeGreaterThan(0.7);
  });
});
