import { describe, expect, test } from 'vitest';
import { loggerText } from './text.ts';
import { plainTrial, simulateTrial } from './trial.ts';

const quiet = { ...plainTrial, whiteNoise: 0, correlatedNoise: 0, hum: 0, rate: 50 };

/** Steps of a fourth-order Runge-Kutta integration: the energy balance, by a way of its own. */
function integrate(
  rate: (t: number, y: number) => number,
  from: number,
  to: number,
  start: number,
  steps: number,
): number {
  const h = (to - from) / steps;
  let y = start;
  for (let i = 0; i < steps; i++) {
    const t = from + i * h;
    const a = rate(t, y);
    const b = rate(t + h / 2, y + (h / 2) * a);
    const c = rate(t + h / 2, y + (h / 2) * b);
    const d = rate(t + h, y + h * c);
    y += (h / 6) * (a + 2 * b + 2 * c + d);
  }
  return y;
}

describe('a simulated trial', () => {
  test.each([0, 0.5, 40])('obeys the lumped energy balance while a hot tail of %d s dies away', (hotTail) => {
    const s = { ...quiet, hotTail };
    const { temperature, heatOff } = simulateTrial(s);
    const excess = (s.peak - s.ambient) / -Math.expm1(-s.heating / s.timeConstant);
    const stream = (t: number) => s.ambient + (hotTail > 0 ? excess * Math.exp(-(t - heatOff) / hotTail) : 0);
    for (const later of [0.5, 10, 60]) {
      const expected = integrate(
        (t, y) => (stream(t) - y) / s.timeConstant,
        heatOff,
        heatOff + later,
        s.peak,
        4000,
      );
      expect(temperature[Math.round((heatOff + later) * s.rate)]).toBeCloseTo(expected, 6);
    }
  });

  test('reaches the peak when the heat goes off, from an ambient that is still', () => {
    const { temperature, heatOn, heatOff } = simulateTrial(quiet);
    expect(temperature[Math.round(heatOn * quiet.rate) - 1]).toBe(quiet.ambient);
    expect(temperature[Math.round(heatOff * quiet.rate)]).toBeCloseTo(quiet.peak, 9);
  });

  test('correlated noise has the deviation and the correlation time that were asked for', () => {
    const s = { ...quiet, baseline: 4000, heating: 0, coolingTimeConstants: 0, rate: 20 };
    const { temperature } = simulateTrial({ ...s, correlatedNoise: 0.5, correlationTime: 1 });
    const noise = temperature.slice(0, -1).map((t) => t - s.ambient);
    const variance = noise.reduce((sum, x) => sum + x * x, 0) / noise.length;
    let lagged = 0;
    for (let i = 20; i < noise.length; i++) lagged += (noise[i] ?? 0) * (noise[i - 20] ?? 0);
    // 4000 correlation times: the variance is known to about 3 %, the correlation at one of them likewise.
    expect(Math.sqrt(variance)).toBeCloseTo(0.5, 1);
    expect(lagged / noise.length / variance).toBeGreaterThan(Math.exp(-1) - 0.1);
    expect(lagged / noise.length / variance).toBeLessThan(Math.exp(-1) + 0.1);
  });

  test('a converter gives whole steps', () => {
    const { temperature } = simulateTrial({ ...plainTrial, step: 0.25 });
    expect(temperature.every((t) => Number.isInteger(t / 0.25))).toBe(true);
  });

  test('is written as the logger would write it', () => {
    const text = loggerText([new Float64Array([20.126, -1.5])], 10, {
      preamble: ['t;T'],
      delimiter: ';',
      decimal: ',',
      lineEnd: '\r\n',
      timeDecimals: 1,
      valueDecimals: 2,
    });
    expect(text).toBe('t;T\r\n0,0;20,13\r\n0,1;-1,50\r\n');
  });
});
