import { describe, expect, test } from 'vitest';
import { zeroTolerance } from '../../src/rig/zero-limit.ts';
import { table } from '../reference/tables.ts';
import { thornwick } from './thornwick.ts';

/**
 * How much a fitted time constant moves for an ambient that is off, found by fitting: the amplitude in closed form
 * for each time constant, the time constant by bisection of the normal equation. It shares nothing with the formula
 * but the model.
 */
function leverByFitting(length: number): number {
  const offset = 1e-4;
  const points = 4001;
  const times = Array.from({ length: points }, (_, i) => (i / (points - 1)) * length);
  const slopeAt = (logTau: number): number => {
    const curve = times.map((time) => Math.exp(-time / Math.exp(logTau)));
    const readings = times.map((time) => Math.exp(-time) + offset);
    const dot = (a: readonly number[], b: readonly number[]) =>
      a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);
    const amplitude = dot(readings, curve) / dot(curve, curve);
    const left = readings.map((value, i) => value - amplitude * (curve[i] ?? 0));
    return dot(
      left,
      curve.map((value, i) => value * (times[i] ?? 0)),
    );
  };
  let [low, high] = [-0.01, 0.01];
  for (let i = 0; i < 40; i += 1) {
    const middle = (low + high) / 2;
    if (slopeAt(middle) > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2 / offset;
}

describe('how far a zero may move', () => {
  test('is what moves the time constant of the example by 1 %', () => {
    // Volts per kelvin of type T at 20 °C and 22 °C, NIST Monograph 175; the jet has 20.5 °C, the target is 95 °C, the
    // gain 200; a record down to a tenth has ln 10 time constants.
    const rows = table('thermocouple-tables.csv').filter((row) => row.text('type') === 'T');
    const perKelvin = (t: number) =>
      (rows.find((row) => row.number('t_C') === t)?.number('seebeck_uV_per_C_polynomial') ?? Number.NaN) *
      1e-6;
    const allowed = (0.01 * (95 - 20.5)) / leverByFitting(Math.log(10));
    const low = perKelvin(20) * 200 * allowed;
    const high = perKelvin(22) * 200 * allowed;
    const tolerance = zeroTolerance(thornwick());
    expect(tolerance).toBeGreaterThan(low * 0.999);
    expect(tolerance).toBeLessThan(high * 1.001);
  });

  test('is not known where volts are not known as kelvin', () => {
    expect(
      zeroTolerance(
        thornwick(['thermocouple: T', 'resistance: Pt100'], ['tolerance-class: "1"', 'tolerance-class: A']),
      ),
    ).toBeNull();
  });
});
