import { describe, expect, it } from 'vitest';
import {
  cutoffProduct,
  errorFraction,
  errorFractionAtTimeConstant,
  firstOrderRatio,
  responseTime,
  riseTime,
} from '../../src/decay/response.ts';
import { json } from '../reference/tables.ts';

interface Relations {
  error_fraction_at_tau: string;
  t50_over_tau: string;
  t90_over_tau: string;
  t95_over_tau: string;
  t99_over_tau: string;
  't99.9_over_tau': string;
  rise_10_90_over_tau: string;
  t90_over_t50: string;
  cutoff_freq_times_tau: string;
  fraction_at_tau_reached: string;
  fractions: Record<string, string>;
}

// Computed to 15 digits; the terms are those of ASTM E839 and E644 and VDI/VDE 3522.
describe('a first-order response', () => {
  const reference = json<Relations>('response-time.json');

  it('covers parts of the step in known times', () => {
    expect(responseTime(0.5)).toBeCloseTo(Number(reference.t50_over_tau), 14);
    expect(responseTime(0.9)).toBeCloseTo(Number(reference.t90_over_tau), 14);
    expect(responseTime(0.95)).toBeCloseTo(Number(reference.t95_over_tau), 13);
    expect(responseTime(0.99)).toBeCloseTo(Number(reference.t99_over_tau), 13);
    expect(responseTime(0.999)).toBeCloseTo(Number(reference['t99.9_over_tau']), 12);
    expect(responseTime(Number(reference.fraction_at_tau_reached))).toBeCloseTo(1, 14);
    expect(firstOrderRatio).toBeCloseTo(Number(reference.t90_over_t50), 13);
    expect(riseTime).toBeCloseTo(Number(reference.rise_10_90_over_tau), 13);
    expect(cutoffProduct).toBeCloseTo(Number(reference.cutoff_freq_times_tau), 14);
  });

  it('leaves known parts of the step', () => {
    expect(errorFractionAtTimeConstant).toBeCloseTo(Number(reference.error_fraction_at_tau), 14);
    for (const [multiple, fraction] of Object.entries(reference.fractions)) {
      expect(errorFraction(Number.parseInt(multiple, 10))).toBeCloseTo(Number(fraction), 14);
    }
  });

  it('has no time for a part that is never reached', () => {
    expect(responseTime(1)).toBeNaN();
    expect(responseTime(-0.1)).toBeNaN();
    expect(responseTime(0)).toBe(0);
  });
});
