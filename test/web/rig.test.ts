import { describe, expect, test } from 'vitest';
import { standingsOf } from '../../src/rig/index.ts';
import type { RigView } from '../../src/server/contract/index.ts';
import { draftFor, firstDraft, requestOf, standingFor, withKind } from '../../web/src/rig/draft.ts';
import { benchTable, bodyRows, summaryWords, toDoAgain } from '../../web/src/rig/standing.ts';
import { check, session, thornwick } from '../rig/thornwick.ts';

const ice = check({ kind: 'ice-point', value: 5, written: '41 degF' });
const old = check({
  kind: 'zero',
  value: 1.3e-3,
  written: '1.3 mV',
  bench: 'bench-2',
  at: '2026-01-01T10:00:00Z',
});
const course = thornwick();
const view: RigView = {
  at: new Date(session).toISOString(),
  benches: [...course.benches],
  bodies: ['brass-12', 'brass-20'],
  flows: ['60', '120'],
  standings: [...standingsOf(course, [ice, old], session)],
  checks: [ice, old],
  withdrawn: [],
  references: [],
  referencesWithdrawn: [],
  candidates: [],
  term: '2026-spring',
  charts: [],
  missingTerms: [],
};

describe('the tables of the rigs', () => {
  const { columns, rows } = benchTable(view.standings, view.benches);

  test('have a column for each bench, and one cell for what all share', () => {
    expect(columns).toEqual(['bench-1', 'bench-2', 'bench-3', 'bench-4']);
    const cellsOf = (kind: string) =>
      rows.filter((row) => row.kind === kind).map(({ cells }) => cells.length);
    expect(cellsOf('zero')).toEqual([4]);
    expect(cellsOf('flow')).toEqual([4, 4]);
    expect(cellsOf('supply-pressure')).toEqual([1]);
  });

  test('say a limit in the unit of the rig where one check was typed in another', () => {
    expect(rows.find(({ kind }) => kind === 'ice-point')?.limit).toBe('0 °C ± 0.20 K');
  });

  test('have one column where no benches are listed', () => {
    expect(benchTable([], []).columns).toEqual([null]);
  });

  test('show every body once', () => {
    expect(bodyRows(view.standings).map(({ body, mass }) => [body, mass === null])).toEqual([
      ['brass-12', false],
      ['brass-20', true],
      ['aluminium-12', true],
      ['aluminium-20', true],
      ['bare-junction', true],
    ]);
  });

  test('are summed up, with what failed before what is too old', () => {
    expect(summaryWords(view.standings)).toMatch(/^1 outside the limits, 1 too old, \d+ not checked yet\.$/);
    expect(toDoAgain(view.standings).map(({ state }) => state)).toEqual(['outside', 'stale']);
    expect(summaryWords([])).toContain('describes nothing');
  });
});

describe('a check that is being typed', () => {
  const first = firstDraft(view);

  test('keeps its bench from kind to kind, and names a code only where one is asked for', () => {
    const flow = withKind({ ...first, bench: 'bench-3' }, 'flow', view);
    expect(flow).toMatchObject({ bench: 'bench-3', subject: '60' });
    const body = withKind(flow, 'diameter', view);
    expect(body).toMatchObject({ bench: '', subject: 'brass-12' });
    expect(withKind(body, 'zero', view)).toMatchObject({ bench: 'bench-1', subject: '' });
  });

  test('finds how what it is about stands', () => {
    expect(standingFor(view, first)?.bench).toBe('bench-1');
    expect(
      standingFor(view, withKind({ ...first, bench: 'bench-3' }, 'supply-pressure', view))?.bench,
    ).toBeNull();
    const [outside] = toDoAgain(view.standings);
    if (outside === undefined) throw new Error('nothing is to be checked again');
    expect(standingFor(view, draftFor(outside))).toBe(outside);
  });

  test('is sent with nothing for what is empty, and with its moment in UTC', () => {
    const draft = { ...first, value: '1.3 mV', at: '2026-03-02T10:30' };
    expect(requestOf(draft, 'IK')).toEqual({
      kind: 'zero',
      value: '1.3 mV',
      bench: 'bench-1',
      subject: null,
      who: 'IK',
      note: '',
      // Tests run in UTC.
      at: '2026-03-02T10:30:00.000Z',
    });
    expect(requestOf({ ...draft, at: '' }, 'IK')).not.toHaveProperty('at');
  });
});
