import { describe, expect, test } from 'vitest';
import { Expectations } from '../../src/floor/expectations.ts';
import type { ReferenceRun } from '../../src/rig/index.ts';
import { thornwick } from '../rig/thornwick.ts';

const run: ReferenceRun = {
  id: 'r1',
  at: '2026-03-02T10:00:00.000Z',
  who: 'IK',
  term: '2026-spring',
  bench: 'bench-1',
  recording: 'reference/a.txt',
  sha256: 'a'.repeat(64),
  body: 'brass-12',
  flow: '120',
  timeConstant: 46,
  standardUncertainty: 0.3,
  interval: [45.4, 46.6],
  expected: null,
  note: '',
};

describe('what a trial is held against before it begins', () => {
  const expectations = new Expectations(thornwick());
  const condition = { body: 'brass-12', flow: '120' };
  const plannedBy = (runs: readonly ReferenceRun[]) =>
    expectations.contextOf(condition, 'bench-1', expectations.earlierRuns(runs, []), {
      lastAmbient: null,
      zeroShift: null,
    }).planned;

  test('is what a reference run of the bench showed, and far surer than theory', () => {
    const theory = plannedBy([]);
    const known = plannedBy([run]);
    expect(known?.value).toBeCloseTo(46, 0);
    const width = (one: typeof known) => (one === null ? Number.NaN : one.interval[1] / one.interval[0]);
    expect(width(known)).toBeLessThan(0.8 * width(theory));
  });

  test('is the same in whatever order they were kept, and passes by bodies that are not known', () => {
    const later = { ...run, id: 'r2', at: '2026-03-09T10:00:00.000Z' };
    const runs = expectations.earlierRuns([later, run, { ...run, body: 'tin-9' }], []);
    expect(runs).toHaveLength(2);
    expect(plannedBy([later, run])?.value).toBeCloseTo(46, 0);
  });
});
