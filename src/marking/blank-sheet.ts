import type { SubmittedQuantity } from '../experiment/index.ts';
import { columnOf, headingOf } from './columns.ts';
import type { KnownRecording } from './placed-rows.ts';

/** A table of texts: the first row is the heading. */
export interface TextTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/**
 * The sheet that a group fills in: a row for each of its recordings, a column for each quantity that it is asked for.
 *
 * @param recordings of the group
 */
export function blankSheet(
  group: string,
  recordings: readonly KnownRecording[],
  asked: readonly SubmittedQuantity[],
): TextTable {
  const quantities = asked.map((quantity) => headingOf(columnOf(quantity)));
  const columns = ['group', 'recording', ...quantities, 'note'];
  return {
    columns,
    rows: recordings.map(({ path }) => [group, path, ...quantities.map(() => ''), '']),
  };
}
/** A sheet with values in it, as a person typed them in; only columns that hold something, and those asked for. */
export function filledSheet(
  group: string,
  rows: readonly {
    readonly recording: string;
    readonly note: string;
    readonly values: Readonly<Partial<Record<SubmittedQuantity, string>>>;
  }[],
  quantities: readonly SubmittedQuantity[],
): TextTable {
  return {
    columns: ['group', 'recording', ...quantities.map((one) => headingOf(columnOf(one))), 'note'],
    rows: rows.map(({ recording, note, values }) => {
      return [group, recording, ...quantities.map((one) => values[one] ?? ''), note];
    }),
  };
}
