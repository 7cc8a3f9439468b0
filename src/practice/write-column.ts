import type { ColumnLabel } from './dialect-types.ts';
import type { ByteSink } from './write-sink.ts';

/** One column of the table. */
export interface Column {
  readonly label: ColumnLabel;
  /**
   * Writes the cell of a row.
   *
   * @param row counted from the start of the recording
   * @param since the same from the start of the part
   */
  write(sink: ByteSink, row: number, since: number): void;
}
