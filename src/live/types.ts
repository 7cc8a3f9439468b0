import type { Interval } from '../quantity/index.ts';

/** How far a trial has come. `done`: the end fraction is reached, or the file no longer grows. */
export type Phase = 'waiting' | 'baseline' | 'heating' | 'cooling' | 'done';

/** Where a limit comes from. */
type GateSource = 'protocol' | 'common-practice' | 'statistics' | 'earlier-trials' | 'theory';

/** `open`: it cannot be said yet. `close`: it will soon be missed, and can still be helped. */
export type GateState = 'open' | 'met' | 'close' | 'missed';

export type GateCode =
  | 'baseline-long'
  | 'baseline-steady'
  | 'target-reached'
  | 'limit-kept'
  | 'cooling-clean'
  | 'end-reached'
  | 'rate-planned'
  | 'converter-free'
  | 'readings-whole'
  | 'resolution-fine'
  | 'zero-steady'
  | 'ambient-steady'
  | 'jet-steady'
  | 'time-constant-plausible'
  | 'body-plausible';

/** One thing that a trial has to pass, and how it stands. */
export interface Gate {
  readonly code: GateCode;
  readonly state: GateState;
  /** What was measured, in `unit`; null where there is no number yet, or none at all. */
  readonly value: number | null;
  /** What it is held against, in `unit`. */
  readonly limit: number | null;
  /** As people write it: s, K, °C, 1/s, 1; null where there is no number. */
  readonly unit: string | null;
  readonly source: GateSource;
  /** One sentence: what was seen, with its number. */
  readonly message: string;
  /** One sentence: what to do; null where nothing has to be done. */
  readonly mend: string | null;
  /** Whether a trial that misses it cannot give a time constant that would be defended, and has to be repeated. */
  readonly spoils: boolean;
}

/** When the cooling will have reached its end fraction. Times in s. */
export interface Forecast {
  /** From the latest reading. */
  readonly remaining: number;
  readonly interval: Interval;
  /** Probability that the interval is made for. */
  readonly coverage: number;
  /** `fit`: from the cooling so far; `expected`: from the time constant that was planned with, without a fit yet. */
  readonly from: 'fit' | 'expected';
}

/** What the people at the bench should do now. */
export interface BenchAdvice {
  readonly action: 'start' | 'go-on' | 'heat-off' | 'stop' | 'repeat';
  /** One sentence, with its reason. */
  readonly message: string;
}

/** A time constant with its coverage interval, s. */
export interface LiveTimeConstant {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly interval: Interval;
}

/** A trial while it is recorded. Times in s from the first reading, temperatures in °C. */
export interface TrialNow {
  readonly phase: Phase;
  /** When the phase began. */
  readonly since: number;
  /** Of the latest reading. */
  readonly time: number;
  /** Latest temperature, the mean over a stretch that is short against what happens. */
  readonly temperature: number | null;
  /** K/s over the latest stretch. */
  readonly slope: number | null;
  readonly ambient: number | null;
  readonly peak: { readonly time: number; readonly temperature: number } | null;
  readonly heatOff: number | null;
  readonly errorFraction: number | null;
  /** From the cooling so far. */
  readonly timeConstant: LiveTimeConstant | null;
  readonly forecast: Forecast | null;
  readonly gates: readonly Gate[];
  readonly advice: BenchAdvice;
  /** At most 160 points of the whole trial so far. */
  readonly series: { readonly time: readonly number[]; readonly temperature: readonly number[] };
}
