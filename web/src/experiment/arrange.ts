import type { Summary } from '../../../src/server/contract/index.ts';

/** What the grid needs of the experiment file. */
export interface Course {
  /** Trials of each condition that the protocol asks for; null where nothing is known of it. */
  readonly repeats: number | null;
  /** Conditions to be measured, by body then flow, in the order of the file. */
  readonly conditions: readonly Condition[];
  readonly sections: readonly string[];
  readonly groups: readonly { readonly code: string; readonly section: string | null }[];
}

interface Condition {
  readonly body: string;
  readonly flow: string;
}

/** A group of a section; where recordings have no group, its bench stands in for it. */
export interface Column {
  readonly section: string | null;
  /** Null where a path names no group. */
  readonly group: string | null;
  readonly bench: string | null;
}

interface SectionColumns {
  readonly section: string | null;
  readonly columns: readonly Column[];
}

/**
 * A place in the grid. `missing`: others of the section have recorded this condition. `not-begun`: nobody of the
 * section has.
 */
export type Cell =
  | { readonly kind: 'recorded'; readonly column: Column; readonly recordings: readonly Summary[] }
  | { readonly kind: 'missing'; readonly column: Column }
  | { readonly kind: 'not-begun'; readonly section: string | null; readonly span: number };

interface GridRow extends Condition {
  /** Whether the experiment file has the condition; true where nothing is known of the file. */
  readonly planned: boolean;
  readonly cells: readonly Cell[];
}

export interface Grid {
  readonly sections: readonly SectionColumns[];
  readonly rows: readonly GridRow[];
  /** Trials of each condition that the protocol asks for; null where nothing is known of it. */
  readonly repeats: number | null;
  /** Recordings whose paths name no body or no flow. */
  readonly apart: readonly Summary[];
}

/** Nothing is known of the course: the file has faults, or is not there yet. */
export const noCourse: Course = { repeats: null, conditions: [], sections: [], groups: [] };

/**
 * Conditions × groups: rows by body then flow in the order of the experiment file, columns by section and group.
 * What only the recordings name comes behind that. Repeats of a condition by one group share a cell.
 */
export function arrange(course: Course, recordings: readonly Summary[]): Grid {
  const placed = recordings.filter(({ place }) => place.body !== null && place.flow !== null);
  const sections = columnsOf(course, placed);
  const byCell = new Map<string, Summary[]>();
  for (const recording of placed) {
    const key = cellKey(recording.place.body, recording.place.flow, columnOf(course, recording));
    byCell.set(key, [...(byCell.get(key) ?? []), recording]);
  }
  for (const list of byCell.values()) list.sort(byRepeat);
  const rows = conditionsOf(course, placed).map(({ body, flow, planned }) => ({
    body,
    flow,
    planned,
    cells: sections.flatMap(({ section, columns }): Cell[] => {
      const found = columns.map((column) => byCell.get(cellKey(body, flow, column)));
      if (found.every((list) => list === undefined)) {
        return [{ kind: 'not-begun', section, span: columns.length }];
      }
      return columns.map((column, i) => {
        const list = found[i];
        return list === undefined
          ? { kind: 'missing', column }
          : { kind: 'recorded', column, recordings: list };
      });
    }),
  }));
  return {
    sections,
    rows,
    repeats: course.repeats,
    apart: recordings.filter((recording) => !placed.includes(recording)),
  };
}

/** Recordings that stand for a trial: those left out or to be repeated do not. */
export function trialsOf(recordings: readonly Summary[]): number {
  return recordings.filter(({ rejected, state, verdict }) => {
    return !rejected && state !== 'unreadable' && verdict !== 'repeat';
  }).length;
}

/** The most trials that a group has of a row's condition. */
export function mostTrials(cells: readonly Cell[]): number {
  return Math.max(0, ...cells.map((cell) => (cell.kind === 'recorded' ? trialsOf(cell.recordings) : 0)));
}

/** How many of the recorded cells hold fewer trials than the protocol asks for. */
export function shortCells({ rows, repeats }: Grid): { readonly short: number; readonly recorded: number } {
  const recorded = rows.flatMap(({ cells }) => cells.flatMap((c) => (c.kind === 'recorded' ? [c] : [])));
  const short = recorded.filter((cell) => repeats !== null && trialsOf(cell.recordings) < repeats);
  return { short: short.length, recorded: recorded.length };
}

/** Text in the order in which a person counts: A2 before A10. */
export function naturally(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true, sensitivity: 'base' });
}

function conditionsOf(course: Course, placed: readonly Summary[]): (Condition & { planned: boolean })[] {
  const conditions = new Map(
    course.conditions.map(({ body, flow }) => [`${body}\n${flow}`, { body, flow, planned: true }]),
  );
  const others = new Map<string, Condition & { planned: boolean }>();
  for (const { place } of placed) {
    const [body, flow] = [place.body ?? '', place.flow ?? ''];
    const key = `${body}\n${flow}`;
    if (!conditions.has(key)) others.set(key, { body, flow, planned: course.conditions.length === 0 });
  }
  const rest = [...others.values()].sort((a, b) => naturally(a.body, b.body) || naturally(a.flow, b.flow));
  return [...conditions.values(), ...rest];
}

function columnOf(course: Course, { place }: Summary): Column {
  const known = course.groups.find(({ code }) => code === place.group);
  return {
    section: place.section ?? known?.section ?? null,
    group: place.group,
    // A group may change its bench; without a group the bench is all that tells columns apart.
    bench: place.group === null ? place.bench : null,
  };
}

function columnsOf(course: Course, placed: readonly Summary[]): SectionColumns[] {
  const columns = new Map<string, Column>();
  const add = (column: Column) => columns.set(columnKey(column), column);
  for (const { code, section } of course.groups) add({ section, group: code, bench: null });
  const own = columns.size;
  const others = new Map<string, Column>();
  for (const recording of placed) {
    const column = columnOf(course, recording);
    if (!columns.has(columnKey(column))) others.set(columnKey(column), column);
  }
  const known = [...columns.values()].slice(0, own);
  const rest = [...others.values()].sort((a, b) =>
    naturally(a.group ?? a.bench ?? '', b.group ?? b.bench ?? ''),
  );
  const all = [...known, ...rest];
  const codes: (string | null)[] = [...course.sections];
  const more = [...new Set(all.map(({ section }) => section))].filter((code) => !codes.includes(code));
  codes.push(...more.sort((a, b) => (a === null ? 1 : b === null ? -1 : naturally(a, b))));
  return codes
    .map((section) => ({ section, columns: all.filter((column) => column.section === section) }))
    .filter(({ columns: list }) => list.length > 0);
}

function columnKey({ section, group, bench }: Column): string {
  return JSON.stringify([section, group, bench]);
}

function cellKey(body: string | null, flow: string | null, column: Column): string {
  return JSON.stringify([body, flow, column.section, column.group, column.bench]);
}

function byRepeat(a: Summary, b: Summary): number {
  return (a.place.repeat ?? 0) - (b.place.repeat ?? 0) || naturally(a.path, b.path);
}

/** A condition with all of its recordings in a row. */
export interface ConditionEntries extends Condition {
  readonly recordings: readonly Summary[];
  /** Groups that have not recorded it although others of their section have. */
  readonly missing: readonly string[];
}

/**
 * The grid read row by row.
 *
 * @param byValue in the order of the time constants, which tells nothing of the groups; else in that of the groups
 */
export function conditionEntries({ rows }: Grid, byValue: boolean): ConditionEntries[] {
  return rows.map(({ body, flow, cells }) => {
    const recordings = cells.flatMap((cell) => (cell.kind === 'recorded' ? cell.recordings : []));
    const missing = cells.flatMap((cell) =>
      cell.kind === 'missing' ? [cell.column.group ?? cell.column.bench ?? 'a group'] : [],
    );
    const size = ({ timeConstant }: Summary) => timeConstant?.value ?? Number.POSITIVE_INFINITY;
    const sorted = byValue ? recordings.toSorted((a, b) => Math.sign(size(a) - size(b)) || 0) : recordings;
    return { body, flow, recordings: sorted, missing };
  });
}
