/** A recording as the class sees it: where it comes from and what came of it. */
export interface ClassRecording {
  readonly path: string;
  readonly section: string | null;
  readonly group: string | null;
  readonly bench: string | null;
  readonly body: string;
  readonly flow: string;
  readonly repeat: number | null;
  /** Day of recording as 2026-10-05; null where the file does not say. */
  readonly day: string | null;
  /** s, > 0, with the standard uncertainty of its logarithm; null without one. */
  readonly timeConstant: { readonly value: number; readonly relative: number } | null;
  /** By theory, s, > 0; null where there is no prediction. */
  readonly predicted: number | null;
  /** Whether it counts: not rejected, not to be repeated, no copy of another. */
  readonly counts: boolean;
  /** Why not, in words; null where it counts. */
  readonly reason: string | null;
  /** SHA-256 of the file, hexadecimal; null where it is not known. */
  readonly sha256: string | null;
  /** How the chain was set, in words; null where it is not known. */
  readonly chain: string | null;
  readonly sketch: TraceSketch | null;
}

/**
 * What is a trace's own: its residuals from the fitted exponential as means over equal cells of time over the time
 * constant, from the heat going off. Whatever is done to the scale, the unit, or the name of a file leaves it as it is.
 */
export interface TraceSketch {
  /** In any unit; NaN where the recording has nothing. */
  readonly residuals: readonly number[];
}
