import type { Adequacy, BaselineReading, DecaySettings, RawNoise } from '../decay/index.ts';
import type { ExpectedTimeConstant } from '../experiment/index.ts';
import type { Remark, Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import type { ExpectedBody } from './body-expected.ts';
import type { TrialNow } from './types.ts';

/** What is known of a trial before it begins. Times in s, temperatures in °C. */
export interface TrialContext {
  /** Codes of what the trial is said to be of; null where nobody says. */
  readonly body: string | null;
  readonly flow: string | null;
  /** Time constant that was planned with: measured before or predicted; null where neither is known. */
  readonly planned: ExpectedTimeConstant | null;
  /** By theory alone; null where there is no prediction. */
  readonly predicted: ExpectedTimeConstant | null;
  /** What each body of the rig would show on this bench, after what was measured before: see `expectedBodies`. */
  readonly bodies: readonly ExpectedBody[];
  /** Sampling rate that was planned, Hz; null where none is stated. */
  readonly plannedRate: number | null;
  /**
   * Readings a second as they arrive, by the clock of the machine that follows the file, over some 10 s or more; null
   * where the file was not seen to grow.
   */
  readonly arrivalRate: number | null;
  /** Ambient of the last trial on this bench; null where there is none. */
  readonly lastAmbient: number | null;
  /** By how much the zero moved from one check to the next, or from the stated one, K; null where nobody looked. */
  readonly zeroShift: number | null;
}

/** A context in which nothing is known. */
export const unknownContext: TrialContext = {
  body: null,
  flow: null,
  planned: null,
  predicted: null,
  bodies: [],
  plannedRate: null,
  arrivalRate: null,
  lastAmbient: null,
  zeroShift: null,
};

/** Everything that the gates of a trial are judged by, at one moment. Times in s, temperatures in °C. */
export interface GateInput
  extends Pick<
    TrialNow,
    | 'phase'
    | 'time'
    | 'temperature'
    | 'slope'
    | 'ambient'
    | 'peak'
    | 'errorFraction'
    | 'timeConstant'
    | 'forecast'
  > {
  readonly trace: Trace;
  /** How the trial is judged: shortest baseline, target, limit, end fraction. */
  readonly settings: DecaySettings;
  readonly context: TrialContext;
  /** Level before the heating, so far or as it was; null where there is none yet. */
  readonly baseline: BaselineReading | null;
  /** Time recorded before the heating, or so far. */
  readonly recordedBefore: number;
  /** Clean cooling so far; null before. */
  readonly cooling: Span | null;
  /** Noise of single readings; null where it has not been looked at. */
  readonly noise: RawNoise | null;
  /** Of the latest fit; null without one. */
  readonly adequacy: Adequacy | null;
  /** What the latest analysis of the cooling said; empty without one. The trace's own are taken from the trace. */
  readonly remarks: readonly Remark[];
}
