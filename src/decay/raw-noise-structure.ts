import { at } from './segment-series.ts';

/** White noise and exponentially correlated noise that explain how readings differ with their distance. */
export interface NoiseParts {
  /** Variances, K². */
  readonly white: number;
  readonly correlated: number;
  /** Correlation time, readings. */
  readonly memory: number;
}

/**
 * Half the mean squared difference of readings at rising distances (the variogram; Cressie, 1993, 2.4). For
 * white and exponentially correlated noise it is s_w² + s_c² (1 − exp(−k/m)).
 *
 * @param values without trend
 * @returns distances, about evenly spaced in their logarithm up to an eighth of the readings, and the halves
 */
function structureFunction(values: Float64Array): { distance: number[]; half: number[] } {
  const distance: number[] = [];
  const half: number[] = [];
  const most = Math.floor(values.length / 8);
  for (let k = 1; k <= most; k = Math.max(k + 1, Math.round(k * 1.35))) {
    let sum = 0;
    for (let i = k; i < values.length; i++) sum += (at(values, i) - at(values, i - k)) ** 2;
    distance.push(k);
    half.push(sum / (values.length - k) / 2);
  }
  return { distance, half };
}

/**
 * Splits noise into a white and a correlated part by least squares on the logarithmically spaced structure
 * function, relative to its values; neither part is negative. The memory is searched from a third of a reading
 * spacing to an eighth of the stretch.
 */
export function splitNoise(values: Float64Array): NoiseParts {
  const { distance, half } = structureFunction(values);
  const total = half.length > 0 ? Math.max(...half) : 0;
  let best: NoiseParts = { white: total, correlated: 0, memory: 0 };
  if (distance.length < 3 || total === 0) return best;
  const weights = half.map((h) => 1 / Math.max(h, 1e-3 * total) ** 2);
  let least = whiteCost(half, weights);
  best = { white: weightedMean(half, weights), correlated: 0, memory: 0 };
  const longest = values.length / 8;
  // A correlated part must explain clearly more than a flat function does.
  least *= 0.8;
  for (let memory = 0.34; memory <= longest; memory *= 1.12) {
    const shape = distance.map((k) => -Math.expm1(-k / memory));
    const parts = nonNegative(shape, half, weights);
    const cost = half.reduce(
      (sum, h, i) => sum + at(weights, i) * (h - parts.white - parts.correlated * at(shape, i)) ** 2,
      0,
    );
    if (cost < least) {
      least = cost;
      best = { ...parts, memory: parts.correlated > 0 ? memory : 0 };
    }
  }
  return best;
}

function weightedMean(values: readonly number[], weights: readonly number[]): number {
  const total = weights.reduce((sum, w) => sum + w, 0);
  return values.reduce((sum, v, i) => sum + at(weights, i) * v, 0) / total;
}

function whiteCost(half: readonly number[], weights: readonly number[]): number {
  const mean = weightedMean(half, weights);
  return half.reduce((sum, h, i) => sum + at(weights, i) * (h - mean) ** 2, 0);
}

function nonNegative(
  shape: readonly number[],
  half: readonly number[],
  weights: readonly number[],
): { white: number; correlated: number } {
  let w = 0;
  let ws = 0;
  let wss = 0;
  let wh = 0;
  let wsh = 0;
  half.forEach((h, i) => {
    const weight = at(weights, i);
    const s = at(shape, i);
    w += weight;
    ws += weight * s;
    wss += weight * s * s;
    wh += weight * h;
    wsh += weight * s * h;
  });
  const determinant = w * wss - ws * ws;
  if (determinant > 1e-12 * w * wss) {
    const white = (wh * wss - ws * wsh) / determinant;
    const correlated = (w * wsh - ws * wh) / determinant;
    if (white >= 0 && correlated >= 0) return { white, correlated };
    if (white < 0) return { white: 0, correlated: wsh / wss };
  }
  return { white: wh / w, correlated: 0 };
}
