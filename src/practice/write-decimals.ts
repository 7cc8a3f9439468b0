import type { BenchTrial, SimulatedOutput } from './bench-types.ts';
import { converterStep } from './chain.ts';

/** Most decimals of a time or a value. */
const mostDecimals = 9;

/** Fewest decimals with which a positive number is written exactly, or as many as there may be. */
function exactDecimals(x: number, most: number): number {
  for (let decimals = 0; decimals < most; decimals++) {
    const scaled = x * 10 ** decimals;
    if (Math.round(scaled) >= 1 && Math.abs(scaled - Math.round(scaled)) < 1e-9 * scaled) return decimals;
  }
  return most;
}

/** Decimals whose last place is no larger than a positive number. */
function placeOf(x: number): number {
  return Math.min(Math.max(Math.ceil(-Math.log10(x) - 1e-9), 0), mostDecimals);
}

/**
 * Decimals with which a time in some unit shows every sample: exact where the period has few decimals, else to a
 * hundredth of it.
 *
 * @param rate Hz
 * @param perSecond written units in a second
 */
export function timeDecimals(rate: number, perSecond: number): number {
  const period = perSecond / rate;
  return exactDecimals(period, Math.min(placeOf(period) + 2, mostDecimals));
}

/** What a kelvin is about in the unit of the output, from the sensitivity of the common types near 50 °C. */
function unitsPerKelvin(output: SimulatedOutput): number {
  if (output.kind === 'degrees') return output.unit === 'degF' ? 1.8 : 1;
  const microvolts = { B: 0.3, E: 64, J: 52, K: 41, N: 28, R: 6.5, S: 6.5, T: 43 }[output.type];
  return Math.abs(output.gain) * microvolts * { V: 1e-6, mV: 1e-3, uV: 1 }[output.unit];
}

/** Steps of a logger that shows no steps, as a share of the white noise and at least, K. */
const fineShare = 0.05;
const finest = 1e-5;

/**
 * Decimals with which a logger writes its readings: all that the step of degrees has, one more than the step of a
 * converter needs, and without steps so many that rounding is lost in the noise.
 */
export function valueDecimals(trial: BenchTrial): number {
  const { output, whiteNoise } = trial.chain;
  if (output.kind === 'degrees' && output.step > 0) return exactDecimals(output.step, 6);
  const step = output.kind === 'volts' ? converterStep(output) : null;
  if (output.kind === 'volts' && step !== null) {
    return Math.min(placeOf(step * { V: 1, mV: 1e3, uV: 1e6 }[output.unit]) + 1, mostDecimals);
  }
  return placeOf(Math.min(Math.max(fineShare * whiteNoise, finest), 1e-3) * unitsPerKelvin(output));
}

/** Steps that a spreadsheet's column leaves of the span of a recording, at least. */
const resavedSteps = 100;

/**
 * Decimals that a spreadsheet leaves: two, and more only where the readings would hardly change.
 *
 * @param logged readings in the unit of the output
 * @param own decimals that the logger wrote
 */
export function resavedDecimals(logged: Float64Array, own: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of logged) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const needed = high > low ? placeOf((high - low) / resavedSteps) : 0;
  return Math.min(own, Math.max(2, needed));
}
