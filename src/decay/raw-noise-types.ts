/** Mains hum in the readings. */
export interface Hum {
  /** Mains frequency, Hz. */
  readonly mains: number;
  /** Amplitude, K; null where the sampling rate does not let it be seen. */
  readonly amplitude: number | null;
  /** Frequency at which it shows in the readings, Hz. */
  readonly appearsAt: number;
  /** Whether the rate folds it to below a tenth of the mains frequency, where it looks like drift. */
  readonly foldedLow: boolean;
}

/** Readings that sit exactly at an extreme of the recording while their neighbours go on. */
export interface Clipping {
  readonly end: 'top' | 'bottom';
  /** °C */
  readonly level: number;
  readonly readings: number;
  /** s */
  readonly from: number;
  readonly to: number;
}

/** Noise of single readings. Deviations in K, times in s. */
export interface RawNoise {
  /** Readings that it was found on, and the stretch that they span. */
  readonly readings: number;
  readonly from: number;
  readonly to: number;
  /** Standard deviation of a reading about a straight line, hum included; at least that of rounding to the step. */
  readonly deviation: number;
  /** Part without memory from one reading to the next. */
  readonly white: number;
  /** Part that is correlated over some time; 0 where none is seen. */
  readonly correlated: number;
  /** Time over which the correlation of that part falls by e; 0 where there is none. */
  readonly correlationTime: number;
  readonly hum: Hum;
  /** Converter step; null where the readings show none. */
  readonly step: number | null;
  readonly clipping: readonly Clipping[];
}
