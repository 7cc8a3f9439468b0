import type { Random } from './random.ts';

/**
 * Adds white noise.
 *
 * @param values changed in place
 * @param standardDeviation in the unit of the values
 */
export function addWhiteNoise(values: Float64Array, standardDeviation: number, random: Random): void {
  if (standardDeviation === 0) return;
  for (let i = 0; i < values.length; i++) {
    values[i] = (values[i] ?? 0) + standardDeviation * random.normal();
  }
}

/**
 * Adds an Ornstein-Uhlenbeck process: Gaussian, stationary from the first sample on, autocorrelation exp(-lag/time).
 * Its samples follow x' = a x + s √(1 - a²) n with a = exp(-step/time) exactly (Gillespie, Physical Review E 54,
 * 2084, 1996).
 *
 * @param values changed in place
 * @param samplePeriod s, > 0
 * @param process standard deviation in the unit of the values; correlation time, s, > 0
 */
export function addCorrelatedNoise(
  values: Float64Array,
  samplePeriod: number,
  process: { readonly standardDeviation: number; readonly correlationTime: number },
  random: Random,
): void {
  const { standardDeviation, correlationTime } = process;
  if (standardDeviation === 0) return;
  const memory = Math.exp(-samplePeriod / correlationTime);
  const kick = standardDeviation * Math.sqrt(-Math.expm1((-2 * samplePeriod) / correlationTime));
  let state = standardDeviation * random.normal();
  for (let i = 0; i < values.length; i++) {
    values[i] = (values[i] ?? 0) + state;
    state = memory * state + kick * random.normal();
  }
}

/**
 * Adds mains hum: a sine of random phase, sampled.
 *
 * @param values changed in place
 * @param samplePeriod s, > 0
 * @param hum amplitude in the unit of the values, frequency in Hz
 */
export function addHum(
  values: Float64Array,
  samplePeriod: number,
  hum: { readonly amplitude: number; readonly frequency: number },
  random: Random,
): void {
  if (hum.amplitude === 0) return;
  const phase = random.uniform();
  const turns = hum.frequency * samplePeriod;
  for (let i = 0; i < values.length; i++) {
    const turn = i * turns + phase;
    values[i] = (values[i] ?? 0) + hum.amplitude * Math.sin(2 * Math.PI * (turn - Math.floor(turn)));
  }
}
