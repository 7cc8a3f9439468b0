import type { FolderComparison } from '../analysis/index.ts';
import { type Column, type ExportedTrial, type ResultsInput, resultColumns } from '../export/index.ts';
import { column, type Described, tableOf } from './described.ts';
import type { QueryTable, QueryTerm } from './types.ts';

/** What only the analysis of a whole recording knows is not kept, and is not asked here. */
const keptColumns: readonly Column[] = resultColumns.filter(({ source }) => !source.startsWith('detail.'));

interface OfTrial {
  readonly term: QueryTerm;
  readonly exported: ExportedTrial;
  readonly input: ResultsInput;
  readonly kept: QueryTerm['trials'][number];
}

const columns: readonly Described<OfTrial>[] = [
  column('term', 'string', null, 'Term of the experiment folder.', ({ term }) => term.term),
  ...keptColumns.map(({ name, type, unit, meaning, of }): Described<OfTrial> => {
    return { name, type, unit, meaning, of: ({ exported, input }) => of(exported, input) };
  }),
  column('ambient', 'number', '°C', 'Temperature to which the body cooled.', ({ kept }) => kept.ambient),
  column(
    'own_u',
    'number',
    '1',
    'Relative standard uncertainty of the time constant from what differs from trial to trial.',
    ({ kept }) => kept.run?.own ?? null,
  ),
  column(
    'shared_u',
    'number',
    '1',
    'Relative standard uncertainty of the time constant from what trials of a bench share.',
    ({ kept }) => kept.run?.shared ?? null,
  ),
  column('sha256', 'string', null, 'SHA-256 of the file of the recording.', ({ kept }) => kept.sha256),
];

/** One row a recording. */
export function trialsTable(terms: readonly QueryTerm[]): QueryTable {
  const rows = terms.flatMap((term) => {
    const comparison: FolderComparison = {
      conditions: [],
      trends: [],
      noted: [],
      left: term.trials.flatMap(({ summary, excluded }) => {
        return excluded === null ? [] : [{ path: summary.path, why: excluded }];
      }),
    };
    const trials = term.trials.map(({ summary }): ExportedTrial => ({ summary, detail: null }));
    const input: ResultsInput = {
      origin: { course: '', version: '', experimentHash: '' },
      experiment: term.experiment,
      trials,
      comparison,
      names: null,
    };
    return term.trials.map((kept): OfTrial => {
      return { term, kept, input, exported: { summary: kept.summary, detail: null } };
    });
  });
  return tableOf('trials', 'Recordings of the groups, one a row.', columns, rows);
}
