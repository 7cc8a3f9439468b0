import { type DecayFitInput, noiseOfBlocks } from '../../src/decay/index.ts';
import { type Random, seededRandom } from '../../src/practice/random.ts';
import { armaLongRunVariance, fitArma } from '../../src/statistics/index.ts';

/** A cooling simulated at the level of block means. Times s, temperatures and noise K. */
export interface Scenario {
  readonly name: string;
  readonly timeConstant: number;
  /** Cooling that is recorded, in time constants; it starts where the error fraction is 0.9. */
  readonly length: number;
  /** Standard deviation and correlation time of each exponentially correlated noise. */
  readonly correlated: readonly (readonly [number, number])[];
  /** White noise of a sample, and samples a second. */
  readonly white: number;
  readonly rate: number;
  /** Standard deviation of the jet's temperature less the baseline's. */
  readonly offset: number;
  /** Standard deviation of the drift, K/s. */
  readonly drift: number;
  /** Amplitude of a hum of 49.95 Hz, seen through blocks of whole periods of 50 Hz. */
  readonly hum: number;
  /** Error fraction as a function of time in time constants since the heat went off; one exponential by default. */
  readonly shape?: (x: number) => number;
}

export const scenario: Scenario = {
  name: '',
  timeConstant: 40,
  length: 4,
  correlated: [],
  white: 0.2,
  rate: 200,
  offset: 0,
  drift: 0,
  hum: 0,
};

const step = 90;
const mains = 0.02;
const baselineLength = 20;
const heating = 40;

export interface Simulated extends DecayFitInput {
  /** Blocks from the heat going off to the start of the window. */
  readonly early: { readonly time: Float64Array; readonly value: Float64Array };
  readonly heatOff: number;
}

/** One recording of a scenario; most blocks a cooling has is the last argument. */
export function simulate(s: Scenario, seed: number, mostBlocks = 1000): Simulated {
  const random = seededRandom(seed);
  // The first numbers of streams with neighbouring seeds are not independent of each other.
  for (let i = 0; i < 32; i++) random.uniform();
  const periods = Math.floor((s.length * s.timeConstant) / (mostBlocks * mains));
  let blockWidth = mains * Math.max(1, periods);
  if (blockWidth > s.timeConstant / 10) blockWidth = Math.max(1 / s.rate, s.timeConstant / 10);
  const nBaseline = Math.floor(baselineLength / blockWidth);
  const nCooling = Math.floor((s.length * s.timeConstant) / blockWidth);
  const heatOff = baselineLength + heating;
  const offset = s.offset * random.normal();
  const drift = s.drift * random.normal();
  const shape = s.shape ?? ((x: number) => Math.exp(-x));
  const phase = 2 * Math.PI * random.uniform();
  const humAt = (t: number) => {
    const w = 2 * Math.PI * 49.95;
    return (s.hum * (Math.cos(w * t + phase) - Math.cos(w * (t + blockWidth) + phase))) / (w * blockWidth);
  };
  const quiet = blockNoise(s, blockWidth, nBaseline, random);
  const before = quiet.map((v, i) => 22 + v + humAt(i * blockWidth) + drift * i * blockWidth);
  const time = Float64Array.from({ length: nCooling }, (_, i) => heatOff + (i + 0.5) * blockWidth);
  const noise = blockNoise(s, blockWidth, nCooling, random);
  const value = time.map(
    (t, i) =>
      22 +
      offset +
      drift * t +
      step * blockAverage(shape, (t - heatOff) / s.timeConstant, blockWidth / s.timeConstant) +
      (noise[i] ?? Number.NaN) +
      humAt(t - blockWidth / 2),
  );
  const first = time.findIndex((t) => Math.exp(-(t - heatOff) / s.timeConstant) < 0.9);
  const mean = before.reduce((a, b) => a + b, 0) / nBaseline;
  const process = fitArma(
    before.map((v) => v - mean),
    { jacobian: [new Float64Array(nBaseline).fill(1)] },
  );
  return {
    time: time.slice(first),
    value: value.slice(first),
    blockWidth,
    baseline: {
      mean,
      midTime: baselineLength / 2,
      standardUncertainty: Math.sqrt(armaLongRunVariance(process) / nBaseline),
      duration: baselineLength,
      blocks: nBaseline,
      noise: noiseOfBlocks(process, blockWidth),
    },
    ambient: { kind: 'baseline', offsetUncertainty: 0.3 },
    driftUncertainty: 0.5 / 600,
    guess: {
      timeConstant: s.timeConstant * Math.exp(0.3 * (2 * random.uniform() - 1)),
      ambient: mean,
      amplitude: 0.9 * step * (0.9 + 0.2 * random.uniform()),
    },
    early: { time: time.slice(0, first), value: value.slice(0, first) },
    heatOff,
  };
}

/** Three-point Gauss average of the shape over a block. */
function blockAverage(shape: (x: number) => number, x: number, width: number): number {
  const away = (width / 2) * Math.sqrt(0.6);
  return (5 * shape(x - away) + 8 * shape(x) + 5 * shape(x + away)) / 18;
}

/** Means over blocks of correlated and white noise; the correlated part is followed in steps of a quarter block. */
function blockNoise(s: Scenario, blockWidth: number, n: number, random: Random): Float64Array {
  const parts = 4;
  const states = s.correlated.map(([deviation]) => deviation * random.normal());
  const white = s.white / Math.sqrt(Math.max(1, blockWidth * s.rate));
  const out = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let part = 0; part < parts; part++) {
      s.correlated.forEach(([deviation, memory], j) => {
        const keep = Math.exp(-blockWidth / parts / memory);
        const state = keep * (states[j] ?? 0) + deviation * Math.sqrt(1 - keep * keep) * random.normal();
        states[j] = state;
        sum += state;
      });
    }
    out[i] = sum / parts + white * random.normal();
  }
  return out;
}

/** Correlated noise whose spectrum falls with the -5/3 power from 1/(2 pi 5 s) on, of standard deviation 1. */
export const turbulence: readonly (readonly [number, number])[] = (() => {
  const memories = [5, 2.5, 1.2, 0.6, 0.3, 0.15, 0.07, 0.035];
  const variances = memories.map((memory) => memory ** (2 / 3));
  const whole = variances.reduce((a, b) => a + b, 0);
  return memories.map((memory, i) => [Math.sqrt((variances[i] ?? 0) / whole), memory] as const);
})();

/**
 * Error fraction at the centre of a sphere that starts uniform, by the series of Carslaw & Jaeger (1959),
 * section 9.4, against time in units of the first term's time constant.
 *
 * @param biot h r/k
 */
export function sphereCentre(biot: number): (x: number) => number {
  const terms = Array.from({ length: 80 }, (_, k) => {
    const z = sphereRoot(biot, k);
    return { z, c: (4 * (Math.sin(z) - z * Math.cos(z))) / (2 * z - Math.sin(2 * z)) };
  });
  const slowest = terms[0]?.z ?? Number.NaN;
  return (x) => {
    let sum = 0;
    for (const { z, c } of terms) {
      const exponent = x * (z / slowest) ** 2;
      if (exponent > 40) break;
      sum += c * Math.exp(-exponent);
    }
    return sum;
  };
}

/** Root of 1 - z cot z = Bi between k pi and (k + 1) pi, by halving. */
function sphereRoot(biot: number, k: number): number {
  let low = k * Math.PI + 1e-9;
  let high = (k + 1) * Math.PI - 1e-9;
  for (let i = 0; i < 60; i++) {
    const z = (low + high) / 2;
    if (1 - z / Math.tan(z) < biot) low = z;
    else high = z;
  }
  return (low + high) / 2;
}

/** Part of the fall goes with another time constant, given in units of the main one. */
export function twoExponentials(share: number, ratio: number): (x: number) => number {
  return (x) => (1 - share) * Math.exp(-x) + share * Math.exp(-x / ratio);
}

/** Hot air that dies away with a time constant of its own (in units of the body's), after a long heating. */
export function hotAir(ratio: number): (x: number) => number {
  return (x) => (Math.exp(-x) - ratio * Math.exp(-x / ratio)) / (1 - ratio);
}

/** The cooling rate changes by a part of it at x. */
export function rateChange(at: number, change: number): (x: number) => number {
  return (x) => Math.exp(-x - change * Math.max(0, x - at));
}
