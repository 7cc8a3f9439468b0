import type { Segments } from './types.ts';

/**
 * What a recording looks like as a whole. `cooling`: a fall after a heating. `starts-hot`: a fall without a
 * heating before it. `warming`: an approach from below. `rises-only`: a rise that nothing follows. `cut`: a rise
 * and the first of a fall. `dips`: a fall from ambient and a return to it. `heating-absent`: fewer heatings than
 * the one asked for. `none`: no change that stands out.
 */
export type Pattern =
  | 'cooling'
  | 'starts-hot'
  | 'warming'
  | 'rises-only'
  | 'cut'
  | 'dips'
  | 'heating-absent'
  | 'none';

/** A fall that the recording breaks off, from its top to its last point. */
export interface BrokenFall {
  /** s */
  readonly from: number;
  readonly to: number;
  /** °C */
  readonly top: number;
  readonly last: number;
}

/** A rise before or within a heating that fell off again, too small to be a heating of its own. */
export interface Dip {
  /** When the temperature began to fall, and when it rose again, s. */
  readonly from: number;
  readonly to: number;
  /** How far it fell, K. */
  readonly depth: number;
}

/** Segments and the first, rough numbers that the marks were placed with. */
export interface Segmentation {
  readonly segments: Segments;
  readonly pattern: Pattern;
  /** For the pattern `cut`, what there is of the fall; else null. */
  readonly broken: BrokenFall | null;
  /** What fell between the quiet start and the peak of the heating taken, and rose again. */
  readonly dips: readonly Dip[];
  /** Rough exponential of the cooling, its origin at the heat-off or the cooling's start; null without one. */
  readonly rough: {
    /** s */
    readonly timeConstant: number;
    /** °C */
    readonly ambient: number;
    /** K at the origin. */
    readonly excess: number;
    /** s */
    readonly origin: number;
    /** Standard deviation of the points about the curve, K. */
    readonly scatter: number;
  } | null;
  /** Standard deviation of the fast noise of a point that was searched, K. */
  readonly noise: number;
  /** Width of the points that were searched, s. */
  readonly resolution: number;
  /** Decay time of hot air after the heat is off, s; 0 where none was seen. */
  readonly tail: number;
  /**
   * Where the fit starts, s: with the clean cooling, but not before the first tenth of the fall (the first
   * twentieth below 10 s) is over; null without a cooling.
   */
  readonly fitFrom: number | null;
  /** Error fraction at the end of the cooling, by the rough exponential; null without one. */
  readonly endFraction: number | null;
  /** Which of the heatings was taken, counted from 1; null where none was. */
  readonly heatingUsed: number | null;
  /** Whether marks were given by hand. */
  readonly byHand: { readonly baseline: boolean; readonly cooling: boolean };
}
