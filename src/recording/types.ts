import type { Remark } from '../remark/index.ts';

/** Units that a logger channel can be in. Ohm is for resistance sensors. */
export type ChannelUnit = 'V' | 'mV' | 'uV' | 'degC' | 'degF' | 'K' | 'ohm';

/** What is kept of blocks, a column each; one row a block. */
export interface BlockColumns {
  /** Number of the cell, counted from 0 at the first sample. */
  readonly cell: Float64Array;
  /** Mean time of the block's samples, s from the first sample. */
  readonly time: Float64Array;
  /** Number of samples in the block, at least 1. */
  readonly count: Float64Array;
  readonly mean: Float64Array;
  /** Sum of squared deviations of the samples from the block's mean. */
  readonly squares: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
}

/**
 * Consecutive samples summed up, one entry a block, in order of time; the arrays run in parallel. Blocks lie
 * on a grid of equal cells that starts at the first sample, and cells without samples are left out, so a gap
 * is a jump in `cell` and costs nothing.
 */
export interface Blocks extends BlockColumns {
  readonly length: number;
  /** Width of a cell, s: a whole number of sample periods. */
  readonly width: number;
}

/** One column of the file that holds readings. */
export interface Channel {
  /** Column in the file, counted from 1. */
  readonly column: number;
  /** Name in the file's own header, or `column N`. */
  readonly name: string;
  /** Null where neither the file nor the caller says. */
  readonly unit: ChannelUnit | null;
}

/** How the text was understood. Every field can be given by the caller instead of being found. */
export interface Dialect {
  readonly encoding: 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin-1';
  readonly delimiter: '\t' | ',' | ';' | '|' | 'space';
  readonly decimal: '.' | ',';
  /** Thousands mark, or null where there is none. */
  readonly thousands: ',' | '.' | ' ' | "'" | null;
  /** Line, counted from 1, of the first row of numbers. */
  readonly firstDataLine: number;
  readonly time: TimeBasis;
}

/** Where the time of a sample comes from. */
export type TimeBasis =
  | {
      readonly kind: 'column';
      readonly column: number;
      readonly format:
        | 'seconds'
        | 'milliseconds'
        | 'microseconds'
        | 'minutes'
        | 'hours'
        | 'date-time'
        | 'time-of-day';
    }
  | { readonly kind: 'index-column'; readonly column: number; readonly rateFrom: 'header' | 'caller' }
  | { readonly kind: 'none'; readonly rateFrom: 'header' | 'caller' };

/** A text recording, understood and summed up in blocks. Values are in the channel's unit. */
export interface Recording {
  /** What a person calls it: usually the path. */
  readonly name: string;
  /** Samples with a usable value. */
  readonly samples: number;
  /** Sampling rate, Hz: one over the usual spacing of the samples. */
  readonly rate: number;
  /** Time from the first sample to the last, s. */
  readonly duration: number;
  /** Start as the file states it, in ISO 8601 without a zone unless the file names one; null where it does not. */
  readonly startedAt: string | null;
  readonly channel: Channel;
  /** All columns that hold readings, the chosen one among them. */
  readonly channels: readonly Channel[];
  readonly blocks: Blocks;
  /** Blocks of further channels that the caller asked for, on the same grid. */
  readonly companions: readonly { readonly channel: Channel; readonly blocks: Blocks }[];
  /** The first samples as they were, up to 65 536 of them, evenly spaced: for hum and converter step. */
  readonly opening: Float64Array;
  readonly dialect: Dialect;
  /** The lines before the numbers, verbatim, at most 200 of them. */
  readonly preamble: readonly string[];
  readonly remarks: readonly Remark[];
}
