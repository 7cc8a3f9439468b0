import type { ReferenceRun, RigCheck } from '../rig/index.ts';
import { column, type Described, tableOf } from './described.ts';
import type { QueryTable, QueryTerm } from './types.ts';

interface Kept<T> {
  readonly term: string;
  readonly one: T;
  readonly counts: boolean;
}

const checkColumns: readonly Described<Kept<RigCheck>>[] = [
  column('term', 'string', null, 'Term of the experiment folder.', ({ term }) => term),
  column('id', 'string', null, 'Name in the book of checks.', ({ one }) => one.id),
  column('made_at', 'moment', null, 'When it was made, UTC.', ({ one }) => one.at),
  column('who', 'string', null, 'Who made it.', ({ one }) => one.who),
  column('bench', 'string', null, 'Code of the bench; empty for what all share.', ({ one }) => one.bench),
  column('kind', 'string', null, 'zero, gain, ice-point, jet-temperature and so on.', ({ one }) => one.kind),
  column(
    'subject',
    'string',
    null,
    'Code of the body or flow, where it is about one.',
    ({ one }) => one.subject,
  ),
  column(
    'value',
    'number',
    'SI',
    'What it showed: V, 1, °C, Pa, m or kg, by its kind.',
    ({ one }) => one.value,
  ),
  column('written', 'string', null, 'As it was typed, with its unit.', ({ one }) => one.written),
  column('note', 'string', null, 'What was written beside it.', ({ one }) => one.note || null),
  column('counts', 'boolean', null, 'Whether nobody took it back.', ({ counts }) => counts),
];

const runColumns: readonly Described<Kept<ReferenceRun>>[] = [
  column('term', 'string', null, 'Term that the run names.', ({ one }) => one.term),
  column('id', 'string', null, 'Name in the book of reference runs.', ({ one }) => one.id),
  column('made_at', 'moment', null, 'When it was made, UTC.', ({ one }) => one.at),
  column('who', 'string', null, 'Who made it.', ({ one }) => one.who),
  column('bench', 'string', null, 'Code of the bench.', ({ one }) => one.bench),
  column('body', 'string', null, 'Code of the body.', ({ one }) => one.body),
  column('flow', 'string', null, 'Code of the flow setting.', ({ one }) => one.flow),
  column('recording', 'string', null, 'Path of its recording.', ({ one }) => one.recording),
  column('time_constant', 'number', 's', 'Time constant that it showed.', ({ one }) => one.timeConstant),
  column(
    'time_constant_u',
    'number',
    's',
    'Standard uncertainty of it.',
    ({ one }) => one.standardUncertainty,
  ),
  column('time_constant_low', 'number', 's', 'Lower end of its 95 % interval.', ({ one }) => one.interval[0]),
  column(
    'time_constant_high',
    'number',
    's',
    'Upper end of its 95 % interval.',
    ({ one }) => one.interval[1],
  ),
  column(
    'expected',
    'number',
    's',
    'What was expected when it was kept.',
    ({ one }) => one.expected?.value ?? null,
  ),
  column(
    'expected_by',
    'string',
    null,
    'prediction, or bench-mean: what the same bench showed before.',
    ({ one }) => one.expected?.source ?? null,
  ),
  column('note', 'string', null, 'What was written beside it.', ({ one }) => one.note || null),
  column('counts', 'boolean', null, 'Whether nobody took it back.', ({ counts }) => counts),
];

/** One row a check of a rig. */
export function rigChecksTable(terms: readonly QueryTerm[]): QueryTable {
  const rows = terms.flatMap(({ term, checks }) => {
    const gone = new Set(checks.withdrawn.map(({ id }) => id));
    return checks.checks.map((one) => ({ term, one, counts: !gone.has(one.id) }));
  });
  return tableOf('rig_checks', 'Checks of the rigs, one a row.', checkColumns, rows);
}

/** One row a reference run. */
export function referenceRunsTable(terms: readonly QueryTerm[]): QueryTable {
  const rows = terms.flatMap(({ term, references }) => {
    const gone = new Set(references.withdrawn.map(({ id }) => id));
    return references.runs.map((one) => ({ term, one, counts: !gone.has(one.id) }));
  });
  return tableOf('reference_runs', "Instructors' reference runs, one a row.", runColumns, rows);
}
