import type { Hum } from './raw-noise-types.ts';
import { at } from './segment-series.ts';

/** Length of the pieces over which the hum's phase is taken as steady, s. */
const piece = 0.5;

/** Frequency at which an oscillation shows when it is sampled, Hz: between 0 and half the rate. */
export function foldedFrequency(frequency: number, rate: number): number {
  return Math.abs(frequency - rate * Math.round(frequency / rate));
}

/**
 * Amplitude of the mains hum: the power at the frequency where it shows, over pieces of half a second (the
 * mains drift in phase over longer ones), less that of the noise beside it.
 *
 * @param values readings without trend, K
 * @param samplePeriod s
 * @param mains Hz
 */
export function measureHum(values: Float64Array, samplePeriod: number, mains: number): Hum {
  const rate = 1 / samplePeriod;
  const appearsAt = foldedFrequency(mains, rate);
  const foldedLow = rate < 2 * mains && appearsAt < mains / 10;
  const duration = values.length * samplePeriod;
  // Slow hum needs longer pieces to be told from the mean, and fast hum from its image beyond half the rate; at
  // half the rate itself the phase is not known.
  const toHalf = rate / 2 - appearsAt;
  const room = Math.max(Math.min(appearsAt, toHalf), 1e-9);
  const length = Math.min(duration, Math.max(piece, 4 / room));
  const atHalf = toHalf < 1e-6 * rate;
  if (appearsAt * length < 2 || atHalf || length / samplePeriod < 12) {
    return { mains, amplitude: null, appearsAt, foldedLow };
  }
  const perPiece = Math.floor(length / samplePeriod);
  const beside = 3 / length;
  let power = 0;
  let floor = 0;
  let pieces = 0;
  for (let from = 0; from + perPiece <= values.length; from += perPiece) {
    const part = values.subarray(from, from + perPiece);
    power += amplitudeSquared(part, appearsAt * samplePeriod);
    floor +=
      (amplitudeSquared(part, (appearsAt + beside) * samplePeriod) +
        amplitudeSquared(part, Math.abs(appearsAt - beside) * samplePeriod)) /
      2;
    pieces++;
  }
  const amplitude = Math.sqrt(Math.max(0, power - floor) / pieces);
  return { mains, amplitude, appearsAt, foldedLow };
}

/** Squared amplitude of a sine of a frequency in cycles per reading, by its Fourier sums about the mean. */
function amplitudeSquared(values: Float64Array, frequency: number): number {
  const n = values.length;
  let mean = 0;
  for (let i = 0; i < n; i++) mean += at(values, i) / n;
  let cosine = 0;
  let sine = 0;
  for (let i = 0; i < n; i++) {
    // A Hann window keeps the slow noise out of the line.
    const window = 1 - Math.cos((2 * Math.PI * (i + 0.5)) / n);
    const phase = 2 * Math.PI * frequency * i;
    cosine += window * (at(values, i) - mean) * Math.cos(phase);
    sine += window * (at(values, i) - mean) * Math.sin(phase);
  }
  return 4 * ((cosine / n) ** 2 + (sine / n) ** 2);
}
