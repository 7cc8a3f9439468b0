import type { ArmaNoise } from './types.ts';

/** The level before heating. */
export interface BaselineLevel {
  /** Mean, °C. */
  readonly mean: number;
  /** Middle of the baseline, s. */
  readonly midTime: number;
  /** Standard uncertainty of the mean from the baseline's own correlated noise, K. */
  readonly standardUncertainty: number;
  /** Length, s. */
  readonly duration: number;
  /** Number of blocks. */
  readonly blocks: number;
  /** Noise of the baseline's blocks, of the same width as those of the cooling; null where it is not known. */
  readonly noise: ArmaNoise | null;
}

/** Where the ambient of the cooling comes from. */
export type AmbientPrior =
  | {
      /** The baseline's mean; it must be there. */
      readonly kind: 'baseline';
      /** By how much the ambient of the cooling may differ from the baseline's, standard uncertainty, K, > 0. */
      readonly offsetUncertainty: number;
    }
  | {
      /** A reading on the same temperature scale. */
      readonly kind: 'given';
      readonly value: number;
      /** K, > 0. */
      readonly standardUncertainty: number;
    }
  | {
      /** Nothing is known: the cooling itself must show it. */
      readonly kind: 'fitted';
    };

/** A cooling to be fitted. Block means lie on a grid of equal width; a few may be missing. */
export interface DecayFitInput {
  /** Middle of each block, s, rising. */
  readonly time: Float64Array;
  /** Mean of each block, °C. */
  readonly value: Float64Array;
  /** s, at most about a tenth of the time constant. */
  readonly blockWidth: number;
  readonly baseline: BaselineLevel | null;
  readonly ambient: AmbientPrior;
  /** Standard uncertainty of a steady drift of zero or ambient, K/s, > 0. Its expected value is none. */
  readonly driftUncertainty: number;
  /** Rough values: time constant s, ambient °C, excess over the ambient at the first block K. */
  readonly guess: { readonly timeConstant: number; readonly ambient: number; readonly amplitude: number };
  /** When the term for slow misfit is added; `gated` (default) adds it where the residuals show one. */
  readonly slowMisfit?: 'gated' | 'always' | 'never';
}

/** Standard uncertainties of ln tau by source; their squares add up. */
export interface DecayContributions {
  /** Noise of the readings in the window. */
  readonly noise: number;
  /** Uncertainty of the baseline's mean, or of a given ambient. */
  readonly ambientLevel: number;
  /** Ambient of the cooling against that of the baseline. */
  readonly ambientOffset: number;
  readonly drift: number;
  /** A slow wandering of the cooling rate; 0 where the term is not added. */
  readonly slowMisfit: number;
}

/** How far the residuals wander slowly. */
export interface SlowMisfit {
  /** Sum of six squared smooth contrasts of the whitened residuals over their variance. */
  readonly chiSquare: number;
  readonly contrasts: number;
  /** Above this the term is added. */
  readonly limit: number;
  readonly added: boolean;
  /** Standard uncertainty of ln tau that the wandering stands for, whether added or not. */
  readonly contribution: number;
}

/** What the linear algebra of the fit leaves for uncertainties of anything computed from the parameters. */
export interface FitGeometry {
  /** Derivatives of the curve by ln tau, amplitude, ambient, and drift over the window. */
  readonly jacobian: readonly Float64Array[];
  /** Cholesky factor of the normal matrix with priors. */
  readonly hessian: Float64Array;
  /** Grid positions of the blocks, from 0 at the first. */
  readonly positions: Float64Array;
  readonly weightVariance: number;
  /** Prior precisions of ambient, 1/K², and of the drift over the window, 1/K². */
  readonly ambientPrecision: number;
  readonly driftPrecision: number;
  /** Ambient put in less the fitted one, K. */
  readonly ambientPull: number;
  /** Length by which a drift over the window is divided for K/s. */
  readonly window: number;
}

/** An exponential fitted to a cooling: ambient + drift (t - driftOrigin) + amplitude exp(-(t - start)/tau). */
export interface DecayFit {
  readonly kind: 'fit';
  readonly timeConstant: number;
  readonly lnTimeConstant: number;
  /** Excess over the ambient at the start, K. */
  readonly amplitude: number;
  /** °C, at the drift's origin. */
  readonly ambient: number;
  /** K/s. */
  readonly drift: number;
  /** Time of the first block, s. */
  readonly start: number;
  /** Middle of the baseline, or the start where no baseline is used, s. */
  readonly driftOrigin: number;
  /** Standard uncertainty of ln tau, all contributions. */
  readonly relativeUncertainty: number;
  /** Standard uncertainty of tau, s. */
  readonly standardUncertainty: number;
  readonly contributions: DecayContributions;
  readonly degreesOfFreedom: number;
  /** 95 % coverage, s. */
  readonly interval: readonly [number, number];
  /** Noise of the blocks that the uncertainty rests on. */
  readonly noise: ArmaNoise;
  /** Degrees of freedom of that noise. */
  readonly noiseDegrees: number;
  readonly noiseSource: 'cooling' | 'baseline';
  /** Null where there are too few blocks to tell. */
  readonly slowMisfit: SlowMisfit | null;
  /** False where the noise had to be found about a fit that was tied to the ambient's prior. */
  readonly ambientFree: boolean;
  readonly time: Float64Array;
  readonly fitted: Float64Array;
  readonly residual: Float64Array;
  /** Standard uncertainty of the fitted curve at each block, K. */
  readonly band: Float64Array;
  /** Change of ln tau per K of each block, 1/K. */
  readonly sensitivity: Float64Array;
  /** Change of ln tau per K of the ambient that was put in, 1/K. */
  readonly ambientSensitivity: number;
  /** Change of ln tau per K/s of drift that was put in, s/K. */
  readonly driftSensitivity: number;
  readonly geometry: FitGeometry;
}

/** Why there is no time constant with an uncertainty. */
export interface DecayFitFailure {
  readonly kind: 'failed';
  readonly reason: 'too-few-blocks' | 'not-cooling' | 'not-settled' | 'not-determined';
  /** The parameter that the data do not determine. */
  readonly parameter: 'time constant' | 'ambient' | 'amplitude' | 'noise';
  /** What was wrong, and what to do. */
  readonly message: string;
}
