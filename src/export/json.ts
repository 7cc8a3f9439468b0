import { describedFields, type Field } from './fields.ts';
import type { ResultsTable } from './table.ts';
import type { ExportOrigin } from './types.ts';

/** Results as JSON: what they are from, what every field means, and an object a trial. */
export function jsonText(table: ResultsTable, { course, version, experimentHash }: ExportOrigin): string {
  const { columns, rows } = table;
  const fields: Field[] = describedFields(columns);
  const trials = rows.map((row) =>
    Object.fromEntries(columns.map(({ name }, place) => [name, row[place] ?? null])),
  );
  const made = { course, emberline: version, experiment: experimentHash };
  return `${JSON.stringify({ ...made, fields, trials }, null, 1)}\n`;
}
