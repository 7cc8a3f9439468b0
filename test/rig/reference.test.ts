import { describe, expect, test } from 'vitest';
import { predictCondition } from '../../src/experiment/index.ts';
import {
  type AskedReference,
  admitReference,
  countingRuns,
  type ReferenceResult,
  type ReferenceRun,
} from '../../src/rig/index.ts';
import { day, session, thornwick } from './thornwick.ts';

const course = thornwick();
/** Nothing can be predicted without the room. */
const { room: _room, ...plain } = course;

const found: ReferenceResult = {
  recording: 'reference/bench-2/brass-12_120.txt',
  sha256: 'a'.repeat(64),
  timeConstant: { value: 38, standardUncertainty: 0.3, interval: [37.4, 38.6] },
  excluded: null,
  began: session - day,
};

function admit(
  asked: Partial<AskedReference> = {},
  result: Partial<ReferenceResult> = {},
  known: readonly ReferenceRun[] = [],
  experiment = course,
) {
  const whole = {
    bench: 'bench-2',
    body: 'brass-12',
    flow: '120',
    term: '2026-spring',
    who: ' IK ',
    note: '',
    at: null,
  };
  return admitReference(experiment, { ...whole, ...asked }, { ...found, ...result }, known, session);
}

function kept(value: number, id: string, bench = 'bench-2'): ReferenceRun {
  const admitted = admit({ bench }, { sha256: id.padEnd(64, '0') });
  if (!admitted.ok) throw new Error(admitted.message);
  return { id, ...admitted.run, timeConstant: value };
}

describe('a reference run', () => {
  test('is kept with its time, what it showed, and what theory expects', () => {
    const admitted = admit();
    const predicted = predictCondition(course, { body: 'brass-12', flow: '120' }, 0);
    if (!admitted.ok || !predicted.ok) throw new Error('neither may fail');
    expect(admitted.run).toMatchObject({
      at: '2026-03-01T10:00:00.000Z',
      who: 'IK',
      term: '2026-spring',
      bench: 'bench-2',
      timeConstant: 38,
      interval: [37.4, 38.6],
    });
    expect(admitted.run.expected?.source).toBe('prediction');
    expect(admitted.run.expected?.value).toBe(predicted.prediction.timeConstant.value);
  });

  test('is held against the mean of its bench where nothing can be predicted', () => {
    const known = [kept(36, 'r1'), kept(49, 'r2'), kept(100, 'r3', 'bench-1')];
    const admitted = admit({}, {}, known, plain);
    if (!admitted.ok) throw new Error(admitted.message);
    // The geometric mean of 36 and 49 is 42.
    expect(admitted.run.expected?.value).toBeCloseTo(42, 9);
    expect(admitted.run.expected?.source).toBe('bench-mean');
    const first = admit({}, {}, [], plain);
    expect(first.ok && first.run.expected).toBeNull();
  });

  test('takes the time that somebody gives, and now where nothing tells', () => {
    const given = admit({ at: '2026-02-16T09:00:00+00:00' });
    expect(given.ok && given.run.at).toBe('2026-02-16T09:00:00.000Z');
    const untold = admit({}, { began: Number.NaN });
    expect(untold.ok && untold.run.at).toBe('2026-03-02T10:00:00.000Z');
  });

  test.each<[Partial<AskedReference>, Partial<ReferenceResult>, string]>([
    [{ who: ' ' }, {}, 'Nobody is named'],
    [{ body: null }, {}, 'No body is named'],
    [{ body: 'tin-9' }, {}, 'There is no body "tin-9"'],
    [{ flow: '__proto__' }, {}, 'There is no flow "__proto__"'],
    [{ bench: null }, {}, 'Name one of bench-1'],
    [{ bench: 'bench-9' }, {}, 'There is no bench "bench-9"'],
    [{ term: '' }, {}, 'The term is not named'],
    [{ at: 'yesterday' }, {}, 'not understood'],
    [{ at: new Date(session + day).toISOString() }, {}, 'in the future'],
    [{}, { excluded: 'The cooling was cut.' }, 'does not count: The cooling was cut. Repeat the trial'],
    [{}, { timeConstant: null }, 'it has no time constant'],
  ])('is refused with what to do: %j %j', (asked, result, words) => {
    const admitted = admit(asked, result);
    expect(admitted.ok ? 'admitted' : `${admitted.message} ${admitted.mend}`).toContain(words);
  });

  test('is kept once, and may be kept again after it was taken back', () => {
    const run = { ...kept(38, 'r1'), sha256: found.sha256 };
    const again = admit({}, {}, [run]);
    expect(again.ok ? '' : again.message).toContain('is kept already, as r1');
    const withdrawn = [{ id: 'r1', at: run.at, who: 'IK', why: 'other bench' }];
    expect(countingRuns({ runs: [run], withdrawn })).toEqual([]);
    expect(admit({}, {}, countingRuns({ runs: [run], withdrawn })).ok).toBe(true);
  });
});
