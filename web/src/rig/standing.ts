/** How the rigs stand, arranged as the place shows it. */
import { rigKind } from '../../../src/rig/index.ts';
import type { RigStandingView } from '../../../src/server/contract/index.ts';

/** One thing that is checked: a row, with what it should be and a cell for each column. */
interface StandingRow {
  readonly kind: RigStandingView['kind'];
  readonly subject: string | null;
  /** What it should be; null where there is nothing to hold it against, or benches differ. */
  readonly limit: string | null;
  readonly cells: readonly (RigStandingView | null)[];
}

/** Rows of what belongs to benches, in the order of the columns. */
export interface BenchTable {
  /** Codes of benches; a null alone is the one rig that there is. */
  readonly columns: readonly (string | null)[];
  readonly rows: readonly StandingRow[];
}

/** What belongs to benches, a column each; what all benches share stands in the row with null as its only cell. */
export function benchTable(standings: readonly RigStandingView[], benches: readonly string[]): BenchTable {
  const own = standings.filter(({ kind }) => rigKind(kind).of !== 'body');
  const columns = benches.length === 0 ? [null] : benches;
  return { columns, rows: rowsOf(own, columns, ({ bench }) => bench) };
}

/** What belongs to bodies: a row a body, with a cell for each kind of check. */
export function bodyRows(standings: readonly RigStandingView[]): readonly BodyRow[] {
  const own = standings.filter(({ kind }) => rigKind(kind).of === 'body');
  const bodies = [...new Set(own.flatMap(({ subject }) => subject ?? []))];
  return bodies.map((body) => ({
    body,
    diameter: own.find((one) => one.subject === body && one.kind === 'diameter') ?? null,
    mass: own.find((one) => one.subject === body && one.kind === 'mass') ?? null,
  }));
}

export interface BodyRow {
  readonly body: string;
  readonly diameter: RigStandingView | null;
  readonly mass: RigStandingView | null;
}

function rowsOf(
  standings: readonly RigStandingView[],
  columns: readonly (string | null)[],
  columnOf: (one: RigStandingView) => string | null,
): StandingRow[] {
  const keys = [...new Set(standings.map(keyOf))];
  return keys.flatMap((key) => {
    const own = standings.filter((one) => keyOf(one) === key);
    const [first] = own;
    if (first === undefined) return [];
    const shared = own.length === 1 && columnOf(first) === null;
    const cells = shared
      ? [first]
      : columns.map((column) => own.find((one) => columnOf(one) === column) ?? null);
    const limits = new Set(own.map(({ expected, tolerance }) => JSON.stringify([expected, tolerance])));
    // Where a check was typed in a unit of its own, its limit is said in that unit.
    const plain = own.find(({ check }) => check === null) ?? first;
    return [
      {
        kind: first.kind,
        subject: first.subject,
        limit: limits.size === 1 ? plain.limitWords : null,
        cells,
      },
    ];
  });
}

function keyOf({ kind, subject }: RigStandingView): string {
  return JSON.stringify([kind, subject]);
}

/** What failed or is too old, failed first. */
export function toDoAgain(standings: readonly RigStandingView[]): readonly RigStandingView[] {
  return [
    ...standings.filter(({ state }) => state === 'outside'),
    ...standings.filter(({ state }) => state === 'stale'),
  ];
}

/** A state in words. */
export const stateWords: Readonly<Record<RigStandingView['state'], string>> = {
  'in-order': 'in order',
  outside: 'outside',
  stale: 'too old',
  missing: 'not yet',
};

/** In a line: what of the rigs is in order, and what is not. */
export function summaryWords(standings: readonly RigStandingView[]): string {
  const count = (state: RigStandingView['state']) => standings.filter((one) => one.state === state).length;
  const parts = [
    [count('outside'), 'outside the limits'],
    [count('stale'), 'too old'],
    [count('in-order'), 'in order'],
    [count('missing'), 'not checked yet'],
  ] as const;
  const said = parts.filter(([number]) => number > 0).map(([number, words]) => `${number} ${words}`);
  return said.length === 0
    ? 'The experiment file describes nothing that could be checked.'
    : `${said.join(', ')}.`;
}
