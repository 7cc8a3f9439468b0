import { describe, expect, test } from 'vitest';
import { simulateRecording } from '../../src/practice/bench-trial.ts';
import { benchTrial } from './bench.ts';

const short = { ...benchTrial, length: 60 };

describe('a simulated recording', () => {
  test('has a reading for every sample, near the junction’s temperature', () => {
    const { junction, logged, trial } = simulateRecording(short);
    expect(trial).toBe(short);
    // Samples at i/20 s from 0 to 60 s.
    expect(junction.length).toBe(1201);
    expect(logged.length).toBe(1201);
    // Offset 0.1 K; noise 0.028 K, hum 0.03 K and rounding stay within five standard deviations.
    logged.forEach((value, i) => {
      expect(Math.abs(value - (junction[i] ?? Number.NaN) - 0.1)).toBeLessThan(5 * 0.028 + 0.03 + 0.005);
    });
  });

  test('is the same for the same trial, and another for another seed', () => {
    expect(simulateRecording(short)).toEqual(simulateRecording(short));
    const other = simulateRecording({ ...short, seed: 2 });
    expect(other.logged).not.toEqual(simulateRecording(short).logged);
  });

  test('noise of the chain leaves body and truth as they were', () => {
    const loud = { ...short, chain: { ...short.chain, whiteNoise: 1, correlatedNoise: [] } };
    const { junction, truth } = simulateRecording(loud);
    expect(junction).toEqual(simulateRecording(short).junction);
    expect(truth).toEqual(simulateRecording(short).truth);
  });

  test('turbulence of the air leaves the noise of the chain as it was', () => {
    const fine = { kind: 'degrees', unit: 'degC', step: 0, range: null, mistaken: null } as const;
    const chain = { ...short.chain, output: fine };
    const calm = simulateRecording({ ...short, chain });
    const turbulence = { standardDeviation: 0.5, correlationTime: 0.2 };
    const rough = simulateRecording({ ...short, chain, air: { ...short.air, turbulence } });
    expect(rough.junction).not.toEqual(calm.junction);
    rough.logged.forEach((value, i) => {
      const noise = value - (rough.junction[i] ?? 0);
      expect(noise).toBeCloseTo((calm.logged[i] ?? 0) - (calm.junction[i] ?? 0), 10);
    });
  });
});
