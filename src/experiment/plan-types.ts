import type { Interval } from '../quantity/index.ts';
import type { Remark } from '../remark/index.ts';
import type { Condition, LeftOutCondition } from './conditions.ts';
import type { DesignUncertainty, ExpectedNoise } from './design-uncertainty.ts';
import type { HeatingTime } from './heating-time.ts';

/** A time constant with its coverage interval, s; the upper end may be Infinity. */
export interface ExpectedTimeConstant {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly interval: Interval;
}

/** Stretches of a trial, s. */
export interface TrialTimes {
  readonly baseline: number;
  readonly heating: number;
  /** From the heat going off to the end fraction. */
  readonly cooling: number;
  /** From there until the body is back at ambient, so that a new baseline can be taken. */
  readonly settling: number;
}

/** What is planned for one condition. Times in s. */
export interface PlannedCondition {
  readonly condition: Condition;
  readonly predicted: ExpectedTimeConstant;
  /** From earlier recordings; null where there are none. */
  readonly measured: ExpectedTimeConstant | null;
  /** By the rig's own correlation; null where there is none for this condition. */
  readonly rig: ExpectedTimeConstant | null;
  /** What the times are made from: the measured value where there is one, else by the rig where that is surer than theory. */
  readonly timeConstant: ExpectedTimeConstant & { readonly source: 'theory' | 'rig' | 'measured' };
  /** Body over ambient when the heat goes off, K. */
  readonly step: number;
  readonly heating: HeatingTime;
  readonly trial: TrialTimes;
  /** Baseline, heating and cooling: what is recorded, s. */
  readonly recorded: number;
  /** That with the upper end of the time constant, s; Infinity where it has none. */
  readonly recordedAtMost: number;
  /** Baseline, heating, cooling and change-over, s. */
  readonly trialTime: number;
  readonly design: DesignUncertainty;
  /** Standard uncertainty of the largest departure of the sensor chain from a straight scale, K. */
  readonly chainNonlinearity: number;
  /** Readings a second that lose nothing, 1/s. */
  readonly rate: number;
  /** Bytes of one recording as text. */
  readonly fileSize: number;
}

/** What the time of a session goes into. */
export type StretchKind =
  | 'ice-bath'
  | 'set-up'
  | 'zeroing'
  | 'change-over'
  | 'baseline'
  | 'heating'
  | 'cooling'
  | 'settling'
  | 'spare'
  | 'reserve';

/** A stretch of the session, s from its first minute; the ice bath may begin before. */
export interface Stretch {
  readonly kind: StretchKind;
  readonly from: number;
  readonly to: number;
  readonly condition: Condition | null;
  /** Counted from 1. */
  readonly repeat: number | null;
}

/** A session as a time line, on one bench. Times in s. */
export interface TimeLine {
  readonly stretches: readonly Stretch[];
  /** In the order in which they are measured. */
  readonly fitting: readonly Condition[];
  readonly notFitting: readonly Condition[];
  /** End of the last trial, without the reserve. */
  readonly end: number;
  /** What all conditions would take, with set-up and reserve. */
  readonly needed: number;
}

/** One way to make conditions fit. */
export interface Mend {
  readonly kind: 'end-fraction' | 'repeats' | 'strong-flow' | 'rotate' | 'jet-off' | 'benches' | 'longer';
  /** Whether all conditions fit with it alone. */
  readonly fits: boolean;
  /** What it saves, s. */
  readonly saves: number;
  /** One sentence: what to do, what it saves, and its price. */
  readonly message: string;
}

/** Advice on a setting. */
export interface Advice {
  readonly about: 'rate' | 'range' | 'resolution' | 'file-size' | 'noise' | 'heating' | 'drift' | 'ambient';
  readonly severity: 'note' | 'caution';
  readonly message: string;
}

/** A session before it is held. */
export interface SessionPlan {
  /** In run order: quick bodies first. */
  readonly conditions: readonly PlannedCondition[];
  readonly leftOut: readonly LeftOutCondition[];
  /** For which no time can be planned, with the reason. */
  readonly unplanned: readonly { readonly condition: Condition; readonly message: string }[];
  readonly timeLine: TimeLine;
  /** Length of the session, s; null where the file states none. */
  readonly length: number | null;
  /** What everything takes if all time constants lie at the upper end of their interval, s; Infinity where one has none. */
  readonly neededAtMost: number;
  readonly mends: readonly Mend[];
  readonly advice: readonly Advice[];
  /** Noise that the design-stage uncertainties assume. */
  readonly noise: ExpectedNoise;
  /** What has to be said to those who heat bodies and open valves. */
  readonly cautions: readonly Remark[];
}
