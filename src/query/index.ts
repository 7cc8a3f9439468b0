import { termConditionsTable } from './conditions-table.ts';
import { decisionsTable } from './decisions-table.ts';
import { referenceRunsTable, rigChecksTable } from './rig-tables.ts';
import { trialsTable } from './trials-table.ts';
import type { QueryTable, QueryTerm } from './types.ts';

export { archivedTable } from './archived-table.ts';
export { askTables } from './ask.ts';
export { QueryError } from './query-error.ts';
export type { QueryAnswer, QueryTable, QueryTerm } from './types.ts';

/** Every table that can be asked, over all terms. */
export function queryTables(terms: readonly QueryTerm[]): readonly QueryTable[] {
  return [
    trialsTable(terms),
    termConditionsTable(terms),
    rigChecksTable(terms),
    referenceRunsTable(terms),
    decisionsTable(terms),
  ];
}
