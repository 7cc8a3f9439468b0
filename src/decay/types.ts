import type { Span } from '../remark/index.ts';

/** Time constants in s, temperatures in °C, differences in K, times in s from the recording's first sample. */

/** The parts of a recording. Each is null where the recording does not have it. */
export interface Segments {
  readonly baseline: Span | null;
  readonly heating: Span | null;
  /** The hottest moment, from smoothed data. */
  readonly peak: { readonly time: number; readonly temperature: number } | null;
  /** From the moment the heat is off until the cooling is clean: hot air still dying away. */
  readonly hotTail: Span | null;
  /** Clean cooling: from the end of the hot tail to the end of the cooling. */
  readonly cooling: Span | null;
  /** When the heat went off, s. */
  readonly heatOff: number | null;
  /** Every heating that was found, the one used among them. */
  readonly heatings: readonly Span[];
}

/** The temperature to which the body cools: °C, its standard uncertainty in K. */
export interface Ambient {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly source: 'baseline' | 'given' | 'fitted';
  /** One sentence: why this source. */
  readonly reason: string;
}

/** The ways in which a time constant is worked out. */
export type EstimateMethod = 'point-36.8' | 'log-linear-origin' | 'log-linear-intercept' | 'exponential-fit';

/** What a classroom would print: readings taken as independent, ambient and start as exact. */
export interface ClassroomValue {
  readonly value: number;
  readonly standardError: number | null;
  readonly interval: readonly [number, number] | null;
}

/** A time constant by one method, s. */
export interface Estimate {
  readonly method: EstimateMethod;
  readonly value: number;
  readonly standardUncertainty: number;
  /** 95 % coverage. */
  readonly interval: readonly [number, number];
  readonly classroom: ClassroomValue | null;
}

/** ARMA(1,1) noise of the block means, and where it comes from. */
export interface ArmaNoise {
  /** Autoregressive coefficient. */
  readonly phi: number;
  /** Moving-average coefficient. */
  readonly theta: number;
  /** Standard deviation of the innovations, K. */
  readonly innovation: number;
  /** Width of the blocks it was found on, s. */
  readonly blockWidth: number;
  /** Variance of a block mean, K². */
  readonly variance: number;
  /** Correlation time, s: the time over which the correlation falls by e. */
  readonly correlationTime: number;
  /** Long-run variance of a block, K²: what a block adds to the variance of a long mean. */
  readonly longRunVariance: number;
}

/** What an uncertainty of the time constant comes from. */
export type BudgetSource = 'noise' | 'ambient' | 'drift' | 'start-and-window' | 'time-base' | 'chain';

/** One source of uncertainty of the time constant. */
export interface BudgetLine {
  readonly source: BudgetSource;
  /** What the line stands for, in words. */
  readonly label: string;
  /** Standard uncertainty of the time constant from this source, s. */
  readonly contribution: number;
  /** Share of the variance, 0 to 1. */
  readonly share: number;
}

/** Whether a recording can be used. */
export type Verdict = 'usable' | 'usable-with-remarks' | 'repeat';
