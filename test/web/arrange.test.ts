import { describe, expect, it } from 'vitest';
import {
  arrange,
  type Course,
  conditionEntries,
  mostTrials,
  noCourse,
  shortCells,
} from '../../web/src/experiment/arrange.ts';
import { beyondWords } from '../../web/src/experiment/beyond.ts';
import { recordingOf } from './recording-of.ts';

const course: Course = {
  repeats: 2,
  conditions: [
    { body: 'brass', flow: '60' },
    { body: 'brass', flow: '120' },
    { body: 'aluminium', flow: '60' },
  ],
  sections: ['A', 'B'],
  groups: [
    { code: 'A1', section: 'A' },
    { code: 'A2', section: 'A' },
    { code: 'B1', section: 'B' },
  ],
};

describe('the grid of conditions and groups', () => {
  it('keeps the order of the experiment file in rows and columns', () => {
    const { rows, sections } = arrange(course, []);
    expect(rows.map(({ body, flow }) => `${body} ${flow}`)).toEqual([
      'brass 60',
      'brass 120',
      'aluminium 60',
    ]);
    expect(sections.map(({ section, columns }) => [section, columns.map(({ group }) => group)])).toEqual([
      ['A', ['A1', 'A2']],
      ['B', ['B1']],
    ]);
  });

  it('tells a missing recording from a condition that a section has not begun', () => {
    const { rows } = arrange(course, [recordingOf('A1', 'brass', '60')]);
    expect(rows[0]?.cells.map(({ kind }) => kind)).toEqual(['recorded', 'missing', 'not-begun']);
    expect(rows[1]?.cells).toEqual([
      { kind: 'not-begun', section: 'A', span: 2 },
      { kind: 'not-begun', section: 'B', span: 1 },
    ]);
  });

  it('puts the repeats of a group in one cell, in their order', () => {
    const { rows } = arrange(course, [
      recordingOf('A1', 'brass', '60', { repeat: 10 }),
      recordingOf('A1', 'brass', '60', { repeat: 2 }),
    ]);
    const cell = rows[0]?.cells[0];
    expect(cell?.kind === 'recorded' && cell.recordings.map(({ place }) => place.repeat)).toEqual([2, 10]);
  });

  it('shows what only the recordings name, behind the rest and in the order of counting', () => {
    const { rows, sections } = arrange(course, [
      recordingOf('A10', 'steel', '60', { section: 'A' }),
      recordingOf('A9', 'steel', '60', { section: 'A' }),
    ]);
    expect(rows.at(-1)).toMatchObject({ body: 'steel', planned: false });
    expect(sections[0]?.columns.map(({ group }) => group)).toEqual(['A1', 'A2', 'A9', 'A10']);
  });

  it('takes the section of a known group from the experiment file', () => {
    const { sections, rows } = arrange(course, [recordingOf('B1', 'brass', '60', { section: null })]);
    expect(sections).toHaveLength(2);
    expect(rows[0]?.cells.at(-1)?.kind).toBe('recorded');
  });

  it('lets the bench stand in for a group where there are none', () => {
    const recording = recordingOf(null, 'brass', '60', { section: null, bench: 'bench-2' });
    const { sections } = arrange(noCourse, [recording]);
    expect(sections).toEqual([
      { section: null, columns: [{ section: null, group: null, bench: 'bench-2' }] },
    ]);
  });

  it('loses no recording, also without a body', () => {
    const recordings = [
      recordingOf('A1', null, '60'),
      recordingOf('A1', 'brass', null),
      recordingOf('A1', 'brass', '60'),
    ];
    const { rows, apart } = arrange(noCourse, recordings);
    expect(apart).toHaveLength(2);
    expect(rows.flatMap(({ cells }) => cells)).toHaveLength(1);
  });
});

describe('a condition in a row', () => {
  const grid = arrange(course, [
    recordingOf('A1', 'brass', '60', { value: 60 }),
    recordingOf('A2', 'brass', '60', { value: 55 }),
    recordingOf('B1', 'brass', '60', { value: null }),
  ]);

  it('stands in the order of the groups', () => {
    expect(conditionEntries(grid, false)[0]?.recordings.map(({ place }) => place.group)).toEqual([
      'A1',
      'A2',
      'B1',
    ]);
  });

  it('stands in the order of the values for a class, those without a value last', () => {
    expect(conditionEntries(grid, true)[0]?.recordings.map(({ place }) => place.group)).toEqual([
      'A2',
      'A1',
      'B1',
    ]);
  });

  it('names the groups that are missing', () => {
    const one = arrange(course, [recordingOf('A1', 'brass', '60')]);
    expect(conditionEntries(one, false)[0]?.missing).toEqual(['A2']);
  });
});

describe('repeats that are missing', () => {
  it('counts the recorded cells with fewer trials than the protocol asks for', () => {
    const grid = arrange({ ...course, repeats: 2 }, [
      recordingOf('A1', 'brass', '60'),
      recordingOf('A1', 'brass', '60', { repeat: 2 }),
      recordingOf('A2', 'brass', '60'),
      recordingOf('A2', 'brass', '60', { repeat: 2, verdict: 'repeat' }),
    ]);
    expect(shortCells(grid)).toEqual({ short: 1, recorded: 2 });
  });

  it('says which groups have fewer than others of their condition', () => {
    const both = [recordingOf('A1', 'brass', '60'), recordingOf('A1', 'brass', '60', { repeat: 2 })];
    const grid = arrange(course, [...both, recordingOf('A2', 'brass', '60')]);
    expect(mostTrials(grid.rows[0]?.cells ?? [])).toBe(2);
    expect(mostTrials([])).toBe(0);
  });

  it('says which groups are out of sight', () => {
    expect(beyondWords([], ['C3', 'C4'])).toBe(
      'Out of view: C3, C4 to the right. Scroll along, or use the arrow keys.',
    );
    expect(beyondWords(['A1'], ['B1', 'B2', 'B3', 'B4', 'B5'])).toMatch(
      /A1 to the left; 5 groups to the right/,
    );
  });

  it('asks for none where nothing is known of the protocol', () => {
    expect(shortCells(arrange(noCourse, [recordingOf('A1', 'brass', '60')])).short).toBe(0);
  });
});
