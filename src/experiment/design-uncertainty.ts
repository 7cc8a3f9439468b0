import { choleskyFactor, choleskySolve } from '../statistics/index.ts';

/** Noise to expect of the readings: K, and for the correlated part its correlation time, s. */
export interface ExpectedNoise {
  /** Standard deviation of what differs from reading to reading, K. */
  readonly white: number;
  /** Standard deviation of what lasts over many readings, such as the turbulence of the jet, K. */
  readonly correlated: number;
  /** Time over which that falls by e, s. */
  readonly correlationTime: number;
}

/** A sphere in a turbulent jet before anything was measured: assumptions, of no source. */
export const usualNoise: ExpectedNoise = { white: 0.2, correlated: 0.3, correlationTime: 0.5 };

/** What a trial that has not been done yet is like. Times in s, differences in K. */
export interface TrialDesign {
  /** s, > 0. */
  readonly timeConstant: number;
  /** Body over ambient when the heat goes off, K, > 0. */
  readonly step: number;
  /** Error fractions between which the cooling is fitted, 1 ≥ from > to > 0. */
  readonly from: number;
  readonly to: number;
  /** Readings a second, > 0. */
  readonly rate: number;
  readonly noise: ExpectedNoise;
  /** Smallest step of the converter, K; 0 where it does not matter. */
  readonly resolution: number;
  /** Standard uncertainty of the ambient in the jet against the baseline, K; Infinity where nothing is known. */
  readonly ambientOffset: number;
  /** Standard uncertainty of a steady drift, K/s; 0 for none. */
  readonly drift: number;
  /** Length of the baseline and of the heating, s. */
  readonly baseline: number;
  readonly heating: number;
  /** Relative standard uncertainty of the time base. */
  readonly timeBase: number;
  /** Standard uncertainty of the largest departure of the sensor chain from a straight scale over the step, K. */
  readonly nonlinearity: number;
}

/**
 * Error fraction at which the fit of a cooling begins: the first tenth of the step still carries what the heating left
 * behind. A cooling that is stopped even before is taken from its start.
 *
 * @param to error fraction at which the cooling ends
 */
export function fitStart(to: number): number {
  return to < 0.9 ? 0.9 : 1;
}

/** What limits the uncertainty that a planned trial can reach. */
export type DesignSource = 'noise' | 'ambient' | 'drift' | 'resolution' | 'time-base' | 'chain';

/** What the uncertainty of a time constant will be made of. */
export interface DesignUncertainty {
  /** Standard uncertainty of ln tau, which is that of tau as a part of it. */
  readonly relative: number;
  /** The largest first; shares of the variance. */
  readonly sources: readonly {
    readonly source: DesignSource;
    readonly relative: number;
    readonly share: number;
  }[];
  readonly limitedBy: DesignSource;
}

/** Keeps the matrices finite where nothing is uncertain, K² and K² s. */
const leastVariance = 1e-12;

const unknown: DesignUncertainty = { relative: Number.NaN, sources: [], limitedBy: 'noise' };

/**
 * Standard uncertainty of ln tau that a trial can reach at best: the Cramér-Rao bound for an exponential with unknown
 * amplitude, an ambient known from the baseline to `ambientOffset` and a drift known to `drift`, in noise of the
 * spectral density S = 2 s² tc + w²/f (K² s) at low frequencies; without priors u = (K/step) √(S/tau) with K from the
 * length of the record. Real fits reach 75 to 95 % of its variance.
 *
 * A converter adds step²/12 to each reading where the noise makes it flicker; where the noise is below half a step it
 * hides the level of the baseline within step/√12. The sensor chain enters by the bend of its scale alone, for offset
 * and scale factor cancel where the ambient is read on the same channel.
 *
 * @returns without sources: Infinity where the record does not determine a time constant, NaN for an impossible design
 */
export function designUncertainty(design: TrialDesign): DesignUncertainty {
  const { timeConstant: tau, step, from, to, rate, noise, resolution, drift } = design;
  const length = Math.log(from / to);
  const possible = [tau, step, rate, length].every((value) => value > 0 && Number.isFinite(value));
  if (!possible || !(from <= 1)) return unknown;
  const flickers = Math.hypot(noise.white, noise.correlated) >= resolution / 2;
  const quantized = resolution ** 2 / 12;
  const own = 2 * noise.correlated ** 2 * noise.correlationTime + noise.white ** 2 / rate;
  const added = flickers ? quantized / rate : 0;
  const density = own + added;
  const level = design.baseline > 0 ? density / design.baseline : Number.POSITIVE_INFINITY;
  const hidden = flickers ? 0 : quantized;
  const ambientVariance = Math.max(leastVariance, design.ambientOffset ** 2 + level + hidden);
  const parameters = drift > 0 ? 4 : 3;
  const start = -tau * Math.log(from);
  const origin = design.baseline / 2 + design.heating + start;
  const scale = tau / Math.max(density, leastVariance);
  const sums = informationOf(length, from * step, origin / tau, parameters);
  const information = sums.information.map((value) => value * scale);
  const priors = [0, 0, 1 / ambientVariance, 1 / (drift * tau) ** 2].slice(0, parameters);
  const weights = firstRowOfInverse(information, priors);
  if (weights === null) return { ...unknown, relative: Number.POSITIVE_INFINITY };
  // Least squares move ln tau by H⁻¹ ∫ f b dx; the bend b does not touch the baseline, at the foot of the step.
  const bend = scale * sums.bend.reduce((sum, value, i) => sum + value * (weights[i] ?? 0), 0);
  const prior = (i: number) => (weights[i] ?? 0) ** 2 * (priors[i] ?? 0);
  // H⁻¹ (M + P) H⁻¹ = H⁻¹: what the priors do not bring, the noise does.
  const fromNoise = Math.max(0, (weights[0] ?? 0) - prior(2) - prior(3));
  const variances: Record<DesignSource, number> = {
    noise: density > 0 ? (fromNoise * own) / density : 0,
    ambient: ambientVariance > 0 ? (prior(2) * (ambientVariance - hidden)) / ambientVariance : 0,
    drift: prior(3),
    resolution:
      (density > 0 ? (fromNoise * added) / density : 0) +
      (ambientVariance > 0 ? (prior(2) * hidden) / ambientVariance : 0),
    'time-base': design.timeBase ** 2,
    chain: (bend * design.nonlinearity) ** 2,
  };
  return summedUp(variances);
}

function summedUp(variances: Readonly<Record<DesignSource, number>>): DesignUncertainty {
  const names = ['noise', 'ambient', 'drift', 'resolution', 'time-base', 'chain'] as const;
  const whole = names.reduce(
    (sum, name) => sum + (Number.isFinite(variances[name]) ? variances[name] : 0),
    0,
  );
  const sources = names
    .map((source) => {
      const variance = Number.isFinite(variances[source]) ? variances[source] : 0;
      return { source, relative: Math.sqrt(variance), share: whole > 0 ? variance / whole : 0 };
    })
    .sort((a, b) => b.share - a.share);
  return { relative: Math.sqrt(whole), sources, limitedBy: sources[0]?.source ?? 'noise' };
}

const pieces = 400;

interface Sums {
  readonly information: Float64Array;
  readonly bend: Float64Array;
}

/**
 * ∫ f f' dx and ∫ f b dx over the record, x in time constants, of the curve's derivatives f by ln tau, amplitude,
 * ambient and drift over a time constant, by Simpson's rule. The bend b is that of a scale which is right at both ends
 * of the span and off by 1 K in the middle, a parabola.
 */
function informationOf(length: number, amplitude: number, origin: number, parameters: number): Sums {
  const bend = new Float64Array(parameters);
  const sums = new Float64Array(parameters * parameters);
  for (let piece = 0; piece <= pieces; piece += 1) {
    const x = (piece / pieces) * length;
    const weight = (piece === 0 || piece === pieces ? 1 : piece % 2 === 1 ? 4 : 2) * (length / (3 * pieces));
    const fall = Math.exp(-x);
    const slopes = [amplitude * x * fall, fall, 1, origin + x];
    for (let i = 0; i < parameters; i += 1) {
      bend[i] = (bend[i] ?? 0) + weight * (slopes[i] ?? 0) * 4 * fall * (1 - fall);
      for (let j = 0; j < parameters; j += 1) {
        const at = i * parameters + j;
        sums[at] = (sums[at] ?? 0) + weight * (slopes[i] ?? 0) * (slopes[j] ?? 0);
      }
    }
  }
  return { information: sums, bend };
}

/** First row of the inverse of the information with priors; null where it is not determined. */
function firstRowOfInverse(information: Float64Array, priors: readonly number[]): Float64Array | null {
  const size = priors.length;
  const matrix = Float64Array.from(information);
  priors.forEach((precision, i) => {
    matrix[i * size + i] = (matrix[i * size + i] ?? 0) + precision;
  });
  const first = new Float64Array(size);
  first[0] = 1;
  if (!matrix.every(Number.isFinite) || !choleskyFactor(matrix, size)) return null;
  choleskySolve(matrix, size, first);
  return first;
}
