/** Rows that follow each other at ordinary steps, every value a number; the holder may be used again. */
export interface Run {
  /** s, row by row. */
  readonly times: Float64Array;
  /** Row by row, `width` numbers each. */
  readonly cells: Float64Array;
  readonly width: number;
  /** Where in a row the value stands, and those of the companions behind it. */
  readonly values: readonly number[];
  /** The first row, and the one behind the last: at least one lies between. */
  from: number;
  to: number;
}
