import { describe, expect, test } from 'vitest';
import { addCorrelatedNoise, addHum, addWhiteNoise } from '../../src/practice/noise.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { streamsOf } from '../../src/practice/streams.ts';

const mean = (x: Float64Array) => x.reduce((sum, value) => sum + value, 0) / x.length;

/** Mean product of samples that lie `lag` apart, of a process whose mean is known to be zero. */
function covariance(x: Float64Array, lag: number): number {
  let sum = 0;
  for (let i = lag; i < x.length; i++) sum += (x[i] ?? 0) * (x[i - lag] ?? 0);
  return sum / (x.length - lag);
}

describe('white noise', () => {
  test('has the variance asked for and no memory', () => {
    const x = new Float64Array(200_000);
    addWhiteNoise(x, 0.3, seededRandom(5));
    // Four standard errors: of a variance √(2/n), of a correlation 1/√n.
    expect(Math.abs(covariance(x, 0) / 0.09 - 1)).toBeLessThan(4 * Math.sqrt(2 / x.length));
    for (const lag of [1, 2, 7]) {
      expect(Math.abs(covariance(x, lag) / 0.09)).toBeLessThan(4 / Math.sqrt(x.length));
    }
  });

  test('is added to what is there', () => {
    const x = new Float64Array(4).fill(10);
    addWhiteNoise(x, 0, seededRandom(5));
    expect([...x]).toEqual([10, 10, 10, 10]);
  });
});

describe('an Ornstein-Uhlenbeck process', () => {
  // Theory: covariance s² exp(-lag/T), the same at any sampling rate (Uhlenbeck & Ornstein, 1930).
  test.each([
    { rate: 2, correlationTime: 0.2 },
    { rate: 20, correlationTime: 1 },
    { rate: 200, correlationTime: 0.5 },
  ])('has its variance and autocorrelation at %o', ({ rate, correlationTime }) => {
    const n = 400_000;
    const x = new Float64Array(n);
    addCorrelatedNoise(x, 1 / rate, { standardDeviation: 0.5, correlationTime }, seededRandom(11));
    const a = Math.exp(-1 / (rate * correlationTime));
    // Bartlett (1946): variance of the estimated covariance of a first-order process, (2/n) s⁴ (1 + a²)/(1 - a²) at
    // most.
    const spread = 0.25 * Math.sqrt((2 / n) * ((1 + a * a) / (1 - a * a)));
    for (const lag of [0, 1, Math.round(rate * correlationTime), 2 * Math.round(rate * correlationTime)]) {
      const theory = 0.25 * Math.exp(-lag / (rate * correlationTime));
      expect(Math.abs(covariance(x, lag) - theory)).toBeLessThan(4 * spread);
    }
  });

  test('is stationary from the first sample on', () => {
    const firsts = Float64Array.from({ length: 4000 }, (_, i) => {
      const x = new Float64Array(1);
      addCorrelatedNoise(x, 0.01, { standardDeviation: 2, correlationTime: 5 }, seededRandom(i));
      return x[0] ?? Number.NaN;
    });
    expect(Math.abs(covariance(firsts, 0) / 4 - 1)).toBeLessThan(4 * Math.sqrt(2 / 4000));
  });
});

describe('hum', () => {
  test('is a sine of the amplitude and frequency asked for', () => {
    // 20 s hold a whole number of periods, so that the Fourier sums pick out one frequency exactly.
    const rate = 1000;
    const x = new Float64Array(20 * rate);
    addHum(x, 1 / rate, { amplitude: 0.25, frequency: 50.05 }, seededRandom(3));
    const amplitudeAt = (frequency: number) => {
      let real = 0;
      let imaginary = 0;
      x.forEach((value, i) => {
        real += value * Math.cos((2 * Math.PI * frequency * i) / rate);
        imaginary += value * Math.sin((2 * Math.PI * frequency * i) / rate);
      });
      return (2 * Math.hypot(real, imaginary)) / x.length;
    };
    expect(amplitudeAt(50.05)).toBeCloseTo(0.25, 10);
    expect(amplitudeAt(50)).toBeLessThan(1e-9);
    expect(amplitudeAt(60)).toBeLessThan(1e-9);
    expect(Math.abs(mean(x))).toBeLessThan(1e-9);
  });

  test('begins anywhere in its period', () => {
    const firsts = Float64Array.from({ length: 2000 }, (_, i) => {
      const x = new Float64Array(1);
      addHum(x, 0.01, { amplitude: 1, frequency: 60 }, seededRandom(i));
      return x[0] ?? Number.NaN;
    });
    // A sine of random phase: mean 0, mean square 1/2 with the spread √(1/8).
    expect(Math.abs(mean(firsts))).toBeLessThan(4 * Math.sqrt(0.5 / 2000));
    expect(Math.abs(covariance(firsts, 0) - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 8 / 2000));
  });
});

describe('streams of parts', () => {
  const draw = (seed: number, part: string) => {
    const random = streamsOf(seed)(part);
    return [random.normal(), random.normal(), random.uniform()];
  };

  test('are the same for the same seed and part, and others for another', () => {
    expect(draw(7, 'hum')).toEqual(draw(7, 'hum'));
    const others = [
      draw(7, 'hum'),
      draw(8, 'hum'),
      draw(-7, 'hum'),
      draw(7, 'body'),
      draw(7 + 2 ** 33, 'hum'),
    ];
    expect(new Set(others.map(String)).size).toBe(others.length);
  });

  test('of one seed, and of one part with neighbouring seeds, are independent', () => {
    const byPart = Float64Array.from({ length: 3000 }, (_, i) => draw(1, `correlated noise ${i}`)[0] ?? 0);
    const bySeed = Float64Array.from({ length: 3000 }, (_, i) => draw(i, 'white noise')[0] ?? 0);
    const both = Float64Array.from({ length: 3000 }, (_, i) => (draw(i, 'hum')[0] ?? 0) * (bySeed[i] ?? 0));
    for (const x of [byPart, bySeed]) {
      expect(Math.abs(mean(x))).toBeLessThan(4 / Math.sqrt(3000));
      expect(Math.abs(covariance(x, 0) - 1)).toBeLessThan(4 * Math.sqrt(2 / 3000));
      expect(Math.abs(covariance(x, 1))).toBeLessThan(4 / Math.sqrt(3000));
    }
    expect(Math.abs(mean(both))).toBeLessThan(4 / Math.sqrt(3000));
  });
});
