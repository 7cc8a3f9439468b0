/** What a protocol asks of a recording. Common practice, no source, unless said otherwise. */
export interface ProtocolLimits {
  /** Shortest baseline, s. */
  readonly baselineSeconds: number;
  /** Largest standard uncertainty of the baseline's mean, K. */
  readonly baselineUncertainty: number;
  /** Error fraction down to which the cooling is to be recorded. */
  readonly endFraction: number;
  /** Temperature that the heating is to reach, °C; null for none. */
  readonly peakTarget: number | null;
  /** Temperature that the body must not exceed, °C; null for none. */
  readonly peakLimit: number | null;
  /** Temperatures that the experiment can produce, °C. */
  readonly plausible: readonly [number, number];
  /** Fewest readings per time constant. */
  readonly readingsPerTimeConstant: number;
}

/** Limits of a course that states none of its own. */
export const defaultProtocolLimits: ProtocolLimits = {
  baselineSeconds: 15,
  baselineUncertainty: 0.3,
  endFraction: 0.1,
  peakTarget: null,
  peakLimit: null,
  plausible: [-30, 400],
  readingsPerTimeConstant: 20,
};
