import { ArmaFilter, dot, stepsBetween } from '../statistics/index.ts';
import type { DecayFit } from './fit-types.ts';
import { orthonormal } from './slow.ts';

/** Time constants of a second exponential that is looked for, as parts of the fitted one. */
const secondRatios = [0.1, 0.2, 0.35, 0.5, 0.7, 1.5, 2, 3, 6] as const;
/** Where a change of the cooling rate is looked for, as parts of the window in time constants. */
const changePlaces = [0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75] as const;
/** Later changes are lost in the noise. */
const changeReach = 3;

/** How much of one extra column is in the residuals. */
export interface Score {
  /** In units of its standard uncertainty. */
  readonly statistic: number;
  /** Amplitude as a part of the fitted one. */
  readonly share: number;
  readonly shareUncertainty: number;
  /** By how much such a departure moves ln tau of the one exponential that is fitted. */
  readonly influence: number;
}

export interface Scores {
  readonly curvature: Score;
  readonly second: readonly (Score & { readonly ratio: number })[];
  /** Change of the cooling rate, a part of it, at a time in time constants from the start. */
  readonly change: readonly (Score & { readonly at: number })[];
}

/**
 * Score tests of the fitted exponential against larger models, in generalized least squares with the fit's
 * noise and priors: each extra column is whitened, freed of what the curve's own parameters can do, and laid
 * against the whitened residuals (Rao's test; Seber & Wild, Nonlinear Regression, 1989, section 5.9).
 *
 * @returns null where there are too few blocks, or no noise
 */
export function scoreTests(fit: DecayFit): Scores | null {
  const { geometry, noise, amplitude } = fit;
  const n = fit.time.length;
  if (noise.innovation === 0 || n < geometry.jacobian.length + 8) return null;
  const x = fit.time.map((t) => (t - fit.start) / fit.timeConstant);
  const filter = new ArmaFilter(n, stepsBetween(geometry.positions));
  filter.prepare(noise.phi, noise.theta);

  // The priors are two more readings, of ambient and of drift, with their own weights.
  const extended = (column: Float64Array, ambient: number, drift: number): Float64Array => {
    const out = new Float64Array(n + 2);
    out.set(filter.whiten(column));
    out[n] = ambient * noise.innovation * Math.sqrt(geometry.ambientPrecision);
    out[n + 1] = drift * noise.innovation * Math.sqrt(geometry.driftPrecision);
    return out;
  };
  const [byLnTau, byAmplitude, byAmbient, byDrift] = geometry.jacobian;
  if (!byLnTau || !byAmplitude || !byAmbient || !byDrift) return null;
  const basis = orthonormal([
    extended(byLnTau, 0, 0),
    extended(byAmplitude, 0, 0),
    extended(byAmbient, 1, 0),
    extended(byDrift, 0, 1),
  ]);
  const residual = extended(fit.residual, geometry.ambientPull, -fit.drift * geometry.window);
  const score = (shape: (x: number) => number): Score => {
    const shaped = x.map(shape);
    const column = extended(shaped, 0, 0);
    const [direction] = orthonormal([column], basis);
    if (!direction)
      return { statistic: 0, share: 0, shareUncertainty: Number.POSITIVE_INFINITY, influence: 0 };
    const size = dot(direction, column) * amplitude;
    const found = dot(direction, residual);
    return {
      statistic: (found / noise.innovation) * Math.sign(size),
      share: found / size,
      shareUncertainty: noise.innovation / Math.abs(size),
      influence: (found / size) * amplitude * dot(fit.sensitivity, shaped),
    };
  };
  const end = Math.min(x[n - 1] ?? 0, changeReach);
  return {
    curvature: score((at) => at * at * Math.exp(-at)),
    second: secondRatios.map((ratio) => ({ ratio, ...score((at) => Math.exp(-at / ratio)) })),
    change: changePlaces.map((part) => {
      const place = part * end;
      return { at: place, ...score((at) => -Math.max(0, at - place) * Math.exp(-at)) };
    }),
  };
}

/** The score that departs most. */
export function strongest<S extends Score>(scores: readonly S[]): S {
  return scores.reduce((a, b) => (Math.abs(b.statistic) > Math.abs(a.statistic) ? b : a));
}
