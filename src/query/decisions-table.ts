import { column, type Described, tableOf } from './described.ts';
import type { QueryTable, QueryTerm } from './types.ts';

type OfDecision = QueryTerm['trials'][number]['decisions'][number] & {
  readonly term: string;
  readonly recording: string;
};

const columns: readonly Described<OfDecision>[] = [
  column('term', 'string', null, 'Term of the experiment folder.', ({ term }) => term),
  column(
    'recording',
    'string',
    null,
    'Path of the recording that it is about.',
    ({ recording }) => recording,
  ),
  column('id', 'string', null, 'Name among the decisions about it.', ({ id }) => id),
  column('made_at', 'moment', null, 'When it was made, UTC.', ({ at }) => at),
  column('who', 'string', null, 'Who decided.', ({ who }) => who),
  column('kind', 'string', null, 'marks, reject, reading, or undo of another one.', ({ kind }) => kind),
  column('why', 'string', null, 'The reason that was given.', ({ why }) => why || null),
  column('undoes', 'string', null, 'The decision that it takes back.', ({ undoes }) => undoes),
  column('counts', 'boolean', null, 'Whether it counts now.', ({ applies }) => applies),
];

/** One row a decision of a person about a recording. */
export function decisionsTable(terms: readonly QueryTerm[]): QueryTable {
  const rows = terms.flatMap(({ term, trials }) =>
    trials.flatMap(({ summary, decisions }) =>
      decisions.map((one) => ({ ...one, term, recording: summary.path })),
    ),
  );
  return tableOf('decisions', 'What people decided about recordings, one a row.', columns, rows);
}
