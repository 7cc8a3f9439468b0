import type { ChannelUnit, Dialect } from './types.ts';

/** Unit of a numeric time column; `index` counts samples. */
export type TimeUnit = 's' | 'ms' | 'us' | 'min' | 'h' | 'index';

/** What the caller knows better than the file. All optional: what is not given is found out, and said. */
export interface ReadOptions {
  /** What a person calls the recording: usually the path. */
  readonly name?: string;
  /** Column to read, by its name in the header (case does not matter) or its number, counted from 1. */
  readonly channel?: string | number;
  readonly unit?: ChannelUnit;
  /** Sampling rate, Hz, > 0. */
  readonly rate?: number;
  readonly decimal?: Dialect['decimal'];
  readonly thousands?: Dialect['thousands'];
  readonly delimiter?: Dialect['delimiter'];
  readonly encoding?: Dialect['encoding'];
  /** Column with the time, by name or number counted from 1; `none`: rows are evenly spaced. */
  readonly timeColumn?: string | number;
  readonly timeUnit?: TimeUnit;
  /** Further columns to sum up on the same grid. */
  readonly companions?: readonly (string | number)[];
  /** Which part, counted from 1, where a logger restarted within the file. Without it: the longest. */
  readonly segment?: number;
}
