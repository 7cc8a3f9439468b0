import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { RecordingSummary } from '../../src/analysis/index.ts';
import {
  conditionsOf,
  experimentTemplate,
  planSession,
  predictCondition,
} from '../../src/experiment/index.ts';
import { bestExample } from '../../src/report/index.ts';
import { experimentOf } from '../experiment/read.ts';

const experiment = experimentOf(experimentTemplate);
const plan = planSession(
  experiment,
  conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0)),
);
const sorted = plan.conditions.toSorted((a, b) => a.timeConstant.value - b.timeConstant.value);
const middle = sorted[Math.floor((sorted.length - 1) / 2)]?.condition ?? { body: '', flow: '' };

/** A usable recording of the middle condition by a group, changed as asked. */
function recording(path: string, change: Partial<RecordingSummary> = {}, half = 0.3): RecordingSummary {
  return {
    path,
    place: { section: null, group: 'A1', bench: null, repeat: 1, ...middle },
    state: 'analyzed',
    message: null,
    note: null,
    timeConstant: {
      value: 40,
      standardUncertainty: half / 2,
      interval: [40 - half, 40 + half],
      coverage: 0.95,
      degreesOfFreedom: 100,
      method: 'exponential-fit',
    },
    verdict: 'usable',
    codes: [],
    strip: null,
    decided: false,
    rejected: false,
    copyOf: null,
    duration: 200,
    startedAt: null,
    ...change,
  };
}

const noGroup = { place: { ...recording('x').place, group: null } };
const otherBody = { place: { ...recording('x').place, body: 'another' } };

describe('the recording that a briefing shows', () => {
  test('has the least uncertainty for its time constant', () => {
    expect(bestExample([recording('a', {}, 0.4), recording('b', {}, 0.2), recording('c')], plan)).toBe('b');
  });

  test('is of the middle of the plan rather than of another condition, and of no group rather than of one', () => {
    expect(bestExample([recording('a', otherBody, 0.1), recording('b')], plan)).toBe('b');
    const reference = recording('c', { place: { ...otherBody.place, ...noGroup.place, body: 'another' } }, 2);
    expect(bestExample([recording('a'), reference], plan)).toBe('c');
  });

  test.each([
    ['waits for its analysis', { state: 'waiting', verdict: null, timeConstant: null }],
    ['must be repeated', { verdict: 'repeat' }],
    ['has remarks', { verdict: 'usable-with-remarks' }],
    ['has a caution by its rig', { codes: ['rig-check-stale'] }],
    ['was taken out', { rejected: true }],
    ['is a copy', { copyOf: 'a' }],
  ] as const)('is none that %s', (_, change) => {
    const { codes, ...rest } = { codes: [], ...change };
    expect(bestExample([recording('b', { ...rest, codes: [...codes] })], plan)).toBeNull();
  });

  test('does not depend on the order of the list', () => {
    const some = [recording('a'), recording('b'), recording('c', noGroup), recording('d', otherBody, 0.1)];
    fc.assert(
      fc.property(fc.shuffledSubarray(some, { minLength: 1 }), (list) => {
        const names = list.map(({ path }) => path);
        const first = ['c', 'a', 'b', 'd'].find((name) => names.includes(name));
        expect(bestExample(list, plan)).toBe(first);
      }),
    );
  });
});
