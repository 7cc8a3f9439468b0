import type { BudgetLine, EstimateMethod, Verdict } from '../decay/index.ts';
import type { RecordingPlace } from '../experiment/index.ts';
import type { TraceSegments } from '../figure/index.ts';
import type { Remark, Span } from '../remark/index.ts';
import type { Decision, Marks } from '../store/index.ts';

/** A 95 % interval. */
export type Interval95 = [number, number];

/** A time constant as it crosses to other programs: s, every number finite. */
export interface StatedTimeConstant {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly interval: Interval95;
  readonly coverage: number;
  readonly degreesOfFreedom: number;
  readonly method: EstimateMethod;
}

/** A recording in a list. */
export interface RecordingSummary {
  /** From the experiment folder, with / between its parts. */
  readonly path: string;
  readonly place: Omit<RecordingPlace, 'kind'>;
  /** `writing`: its file still grows; it is analyzed when it rests. */
  readonly state: 'waiting' | 'writing' | 'analyzed' | 'unreadable';
  /** Why it could not be read, and what to do; null where it could. */
  readonly message: string | null;
  /** What does not count of what was decided about it, and why; null where all does. */
  readonly note: string | null;
  readonly timeConstant: StatedTimeConstant | null;
  readonly verdict: Verdict | null;
  /** Codes of the cautions, of what asks for a repeat, and of what the checks of its rig say. */
  readonly codes: string[];
  /** ln of the error fraction against time over the time constant, at most 40 points. */
  readonly strip: { readonly x: number[]; readonly y: number[] } | null;
  /** Whether a person judged it: moved its marks or took it out; and whether it is taken out. */
  readonly decided: boolean;
  readonly rejected: boolean;
  /** The recording that it is a copy of, byte for byte. */
  readonly copyOf: string | null;
  /** s */
  readonly duration: number | null;
  readonly startedAt: string | null;
}

/** What a figure of a recording is drawn from. */
export interface StatedFigure {
  readonly name: string;
  readonly headline: string;
  readonly verdict: string;
  readonly time: number[];
  readonly temperature: number[];
  readonly envelope: { readonly low: number[]; readonly high: number[] };
  readonly segments: TraceSegments;
  readonly ambient: { readonly value: number; readonly u: number } | null;
  readonly fit: {
    readonly tStart: number;
    readonly a: number;
    readonly b: number;
    readonly c: number;
    readonly tb: number;
    readonly tau: number;
  } | null;
  readonly timeConstant: { readonly value: number; readonly interval: Interval95 } | null;
  readonly limits: Interval95;
  readonly points: { readonly time: number; readonly errorFraction: number; readonly fitted: number }[];
  readonly remarks: Remark[];
}

/** Everything that there is to show of one recording. Times in s, temperatures in °C, differences in K. */
export interface RecordingDetail extends RecordingSummary {
  readonly file: { readonly sha256: string; readonly bytes: number; readonly name: string };
  readonly read: {
    readonly samples: number;
    readonly rate: number;
    readonly dialect: string;
    readonly channel: string;
    readonly unit: string | null;
    readonly conversion: string;
  };
  readonly figure: StatedFigure;
  readonly residuals: { readonly time: number; readonly residual: number; readonly band: number }[];
  readonly correlation: { readonly lag: number; readonly value: number; readonly limit: number }[];
  readonly estimates: {
    readonly method: EstimateMethod;
    readonly value: number;
    readonly standardUncertainty: number;
    readonly interval: Interval95;
    readonly classroom: {
      readonly value: number;
      readonly standardError: number | null;
      readonly interval: Interval95 | null;
    } | null;
  }[];
  readonly ambient: {
    readonly value: number;
    readonly standardUncertainty: number;
    readonly source: string;
    readonly reason: string;
  } | null;
  readonly endFraction: number | null;
  readonly adequacy: { readonly firstOrder: boolean | null; readonly sentence: string } | null;
  readonly fingerprint: string | null;
  readonly noise: string | null;
  readonly budget: BudgetLine[];
  readonly remarks: Remark[];
  readonly prediction: {
    readonly timeConstant: number;
    readonly interval: [number, number | null];
    readonly sentence: string;
  } | null;
  /** Marks as found, and as used. */
  readonly found: Marks;
  readonly used: Marks;
  /** Every heating in the recording, the one used among them. */
  readonly heatings: Span[];
  readonly decisions: Decision[];
}

/** A stretch of readings, °C: single ones where there are few, else thinned. */
export interface StretchOfReadings {
  readonly time: number[];
  readonly value: number[];
  readonly low: number[];
  readonly high: number[];
  readonly raw: boolean;
}
