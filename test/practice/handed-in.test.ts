import { describe, expect, test } from 'vitest';
import {
  type GroupSlipName,
  groupSheets,
  handedIn,
  practiceSet,
  simulateRecording,
} from '../../src/practice/index.ts';
import { plainWishes, thornwickExperiment } from './wishes.ts';

const experiment = thornwickExperiment();
const set = practiceSet(experiment, { ...plainWishes, groups: 1 });
const worked = set.recordings.map(({ condition, source, task }) => ({
  condition,
  task,
  readings: simulateRecording(source.trial),
}));
const tau = 'time constant with intercept / s';

function rowOf(i: number, slips: readonly GroupSlipName[]) {
  const { task, readings } = worked[i] ?? {};
  if (task === null || task === undefined || readings === undefined) throw new Error('nothing is handed in');
  const { cells } = handedIn(readings, { ...task, slips });
  const numbers = Object.entries(cells).map(([column, cell]): [string, number] => [column, Number(cell)]);
  return { cells: new Map(numbers), truth: readings.truth };
}

describe('what a group hands in', () => {
  test('is near the truth where it makes no slip', () => {
    for (const i of worked.keys()) {
      const { cells, truth } = rowOf(i, []);
      const expected = truth.timeConstant ?? Number.NaN;
      expect(Math.abs((cells.get(tau) ?? 0) / expected - 1)).toBeLessThan(0.05);
    }
  });

  // What a slip does to an exponential is known beforehand.
  test.each([
    ['base-ten', tau, Math.LN10],
    ['milliseconds', tau, 1000],
    ['minutes', tau, 1 / 60],
    ['diameter-for-volume-to-area', 'predicted time constant / s', 6],
    ['biot-with-diameter', 'Biot number', 6],
    ['radius-in-reynolds', 'Reynolds number', 0.5],
    ['minute-for-second', 'Reynolds number', 60],
    ['accuracy-as-standard', 'standard uncertainty of prediction / s', 2],
  ] as const)('with %s is off by that much', (slip, column, factor) => {
    const [right, wrong] = [rowOf(0, []).cells, rowOf(0, [slip]).cells];
    expect((wrong.get(column) ?? 0) / (right.get(column) ?? 1) / factor).toBeCloseTo(1, 1);
  });

  test('has the same slips in every recording of a group, and mostly none', () => {
    const many = practiceSet(experiment, { ...plainWishes, groups: 60 });
    const slips = new Map<string, Set<string>>();
    for (const { group, task } of many.recordings) {
      const own = slips.get(group.code) ?? new Set();
      slips.set(group.code, own.add(task?.slips.join(' ') ?? ''));
    }
    const right = [...slips.values()].filter((own) => own.size === 1 && own.has(''));
    expect(right.length).toBeGreaterThan(24);
    expect(right.length).toBeLessThan(54);
  });

  test('leaves out recordings with a fault', () => {
    const faulty = practiceSet(experiment, { ...plainWishes, groups: 2, faultShare: 0.5 });
    for (const { faults, task } of faulty.recordings) expect(task === null).toBe(faults.length > 0);
  });
});

test('a sheet has a row a recording, and is quoted where a path asks for it', () => {
  const row = { slips: [], cells: { 'Biot number': '0.0031' } };
  const sheets = groupSheets([
    { path: 'a, "b".txt', group: 'A1', handedIn: row },
    { path: 'c.txt', group: 'A1', handedIn: null },
    { path: 'd.txt', group: 'A2', handedIn: row },
  ]);
  expect([...sheets.keys()]).toEqual(['submissions/A1.csv', 'submissions/A2.csv']);
  const lines = sheets.get('submissions/A1.csv')?.split('\n') ?? [];
  expect(lines[0]).toMatch(/^group,recording,time constant at 36\.8 % \/ s,/);
  expect(lines[1]).toBe('A1,"a, ""b"".txt",,,,,,,,,,0.0031,,');
  expect(lines).toHaveLength(3);
});
