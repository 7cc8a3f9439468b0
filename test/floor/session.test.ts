import { describe, expect, test } from 'vitest';
import type { Experiment } from '../../src/experiment/index.ts';
import { Expectations } from '../../src/floor/expectations.ts';
import { sessionNow } from '../../src/floor/session.ts';
import type { BenchTile, FinishedTrial } from '../../src/floor/types.ts';
import { TrialWatch } from '../../src/live/trial-watch.ts';
import type { TrialNow } from '../../src/live/types.ts';
import { traceOf } from '../decay/trials.ts';
import { contextOf, settingsFor, trialsOf } from '../live/trials.ts';
import { thornwickExperiment } from '../practice/wishes.ts';

const brass = { body: 'brass-12', flow: '120' };
const aluminium = { body: 'aluminium-12', flow: '120' };

/** The Thornwick course with two conditions, three repeats of each. */
const course: Experiment = thornwickExperiment();
const planned = new Expectations(course).planned.filter(({ condition: { body, flow } }) =>
  [brass, aluminium].some((one) => one.body === body && one.flow === flow),
);

/** 14:00 of a day, in the time of this machine. */
const two = new Date(2026, 2, 2, 14, 0, 0).getTime();
const minute = 60_000;

function tile(bench: string, changes: Partial<BenchTile> = {}): BenchTile {
  return {
    bench,
    group: null,
    section: null,
    condition: null,
    repeat: null,
    path: null,
    trial: null,
    trouble: null,
    quiet: null,
    trials: [],
    rig: [],
    ...changes,
  };
}

function finished(
  condition: FinishedTrial['condition'],
  verdict: FinishedTrial['verdict'],
  path: string,
): FinishedTrial {
  return { path, condition, repeat: null, timeConstant: null, standardUncertainty: null, verdict, words: '' };
}

/** A trial of brass as it is watched half-way through its cooling. */
function runningTrial(): TrialNow {
  const [simulated] = trialsOf('session', null, { conditions: [brass] });
  if (simulated === undefined) throw new Error('There is no trial.');
  const { logged, truth, trial } = simulated.readings;
  const until = Math.round((truth.heatOff + 0.5 * (truth.timeConstant ?? 0)) * trial.logger.rate);
  const watch = new TrialWatch(settingsFor(brass.body));
  return watch.take(traceOf(logged.slice(0, until), trial.logger.rate), contextOf(simulated), true);
}

const withStart = (start: string): Experiment => ({ ...course, session: { ...course.session, start } });

describe('when the session began', () => {
  test('is not guessed', () => {
    const now = sessionNow(course, planned, [tile('bench-1')], { now: two, first: null });
    expect(now).toMatchObject({ elapsed: null, remaining: null, length: 6600 });
    expect(now.message).toBe('0 trials are done; when the session began is not known.');
    // Where no time is known, nothing is said not to fit.
    expect(now.left.every(({ fits }) => fits)).toBe(true);
  });

  test('is the first recording and the set-up before it', () => {
    const now = sessionNow(course, planned, [tile('bench-1')], { now: two, first: two - 10 * minute });
    expect(now.elapsed).toBe(25 * 60);
    expect(now.remaining).toBe(85 * 60);
    expect(now.message).toContain('25 min of 110 min are over, counted from the first recording');
  });

  test('is the stated time of day, where that can be meant', () => {
    const at = (start: string, first: number | null) =>
      sessionNow(withStart(start), planned, [tile('bench-1')], { now: two, first });
    expect(at('13:30', null).elapsed).toBe(1800);
    expect(at('13:30', two - minute).elapsed).toBe(1800);
    expect(at('14:20', null).elapsed).toBe(-1200);
    expect(at('14:20', null).message).toBe('The session begins in 20 min.');
    // A session of the morning is over; the recordings are of another one.
    expect(at('08:00', null).elapsed).toBeNull();
    expect(at('08:00', two - minute).elapsed).toBe(16 * 60);
    expect(at('18:00', two - minute).elapsed).toBe(16 * 60);
  });
});

describe('what is left of the plan', () => {
  const begun = { now: two, first: two };
  const leftOf = (bench: BenchTile) =>
    sessionNow(course, planned, [bench], begun).left.map(({ condition, trials }) => [condition.body, trials]);

  test('is every repeat, in the order of the plan', () => {
    expect(leftOf(tile('bench-1'))).toEqual(planned.map(({ condition }) => [condition.body, 3]));
  });

  test('is less what is done and can be used', () => {
    const trials = [
      finished(brass, 'usable', 'a'),
      finished(brass, 'usable-with-remarks', 'b'),
      finished(brass, 'repeat', 'c'),
      finished(brass, 'unreadable', 'd'),
      finished(null, 'usable', 'e'),
      finished({ body: 'brass-12', flow: '60' }, 'usable', 'f'),
    ];
    expect(leftOf(tile('bench-1', { trials }))).toContainEqual(['brass-12', 1]);
    const all = ['a', 'b', 'c'].map((path) => finished(brass, 'usable', path));
    expect(leftOf(tile('bench-1', { trials: all }))).toEqual([['aluminium-12', 3]]);
  });

  test('is less the trial that is being made, unless that has to be repeated, and counts it once', () => {
    const trial = runningTrial();
    const running = { condition: brass, path: 'now', trial };
    expect(leftOf(tile('bench-1', running))).toContainEqual(['brass-12', 2]);
    const spoiled: TrialNow = { ...trial, advice: { action: 'repeat', message: 'The jet changed.' } };
    expect(leftOf(tile('bench-1', { ...running, trial: spoiled }))).toContainEqual(['brass-12', 3]);
    const trials = [finished(brass, 'usable', 'now')];
    expect(leftOf(tile('bench-1', { ...running, trials }))).toContainEqual(['brass-12', 2]);
  });
});

describe('what still fits', () => {
  const [first, second] = planned;
  if (first === undefined || second === undefined) throw new Error('There are no two conditions.');
  const needed = ({ recorded, trial }: (typeof planned)[number]) =>
    course.session['change-over'] + 3 * recorded + 2 * trial.settling;
  const reserve = course.session.reserve;
  const at = (usable: number, bench = tile('bench-1')) => {
    // So much of the session is left for trials.
    const remaining = usable + reserve;
    const elapsed = (course.session.length ?? 0) - remaining;
    return sessionNow(course, planned, [bench], {
      now: two,
      first: two - (elapsed - course.session['set-up']) * 1000,
    });
  };

  test('is what the time without the reserve is long enough for', () => {
    const both = needed(first) + needed(second);
    expect(at(both + 1).left.map(({ fits }) => fits)).toEqual([true, true]);
    expect(at(both - 1).left.map(({ fits }) => fits)).toEqual([true, false]);
  });

  test('what does not fit leaves its time to those behind it', () => {
    const long = { ...first, recorded: 1e5 };
    const { left } = sessionNow(course, [long, second], [tile('bench-1')], { now: two, first: two });
    expect(left.map(({ fits }) => fits)).toEqual([false, true]);
  });

  test('the trial that is being made takes its time first', () => {
    const trial = runningTrial();
    const remaining = trial.forecast?.remaining ?? 0;
    expect(remaining).toBeGreaterThan(5);
    // A trial of another condition than those that are left.
    const bench = tile('bench-1', { condition: { body: 'brass-20', flow: '60' }, path: 'now', trial });
    const both = needed(first) + needed(second);
    expect(at(both + remaining - 1, bench).left.map(({ fits }) => fits)).toEqual([true, false]);
    expect(at(both + remaining + 1, bench).left.map(({ fits }) => fits)).toEqual([true, true]);
  });
});

describe('in one sentence', () => {
  const words = (benches: readonly BenchTile[], over: number, plan = planned) =>
    sessionNow(withStart('14:00'), plan, benches, { now: two + over * minute, first: null }).message;
  const done = (bench: string, brassDone: number, aluminiumDone: number) =>
    tile(bench, {
      trials: [
        ...Array.from({ length: brassDone }, (_, i) => finished(brass, 'usable', `b${i}`)),
        ...Array.from({ length: aluminiumDone }, (_, i) => finished(aluminium, 'usable', `a${i}`)),
      ],
    });

  test('there is time for all that is left', () => {
    expect(words([tile('bench-1'), tile('bench-2')], 20)).toBe(
      '20 min of 110 min are over; 0 trials are done. There is time for all 12 trials that are left.',
    );
    expect(words([done('bench-1', 3, 2)], 20)).toBe(
      '20 min of 110 min are over; 5 trials are done. There is time for the one trial that is left.',
    );
    expect(words([done('bench-1', 3, 3)], 20)).toBe(
      '20 min of 110 min are over; 6 trials are done. Nothing of the plan is left.',
    );
  });

  test('a plan that is longer than the session is said in trials, and where', () => {
    const long = planned.map((one) => ({ ...one, recorded: one.condition.body === 'brass-12' ? 1e5 : 60 }));
    expect(words([tile('bench-1'), done('bench-2', 3, 1)], 20, long)).toBe(
      '20 min of 110 min are over; 4 trials are done. Of 8 trials that are left there is time for 5; for 3 there is none, on one bench.',
    );
    const many = ['1', '2', '3', '4', '5'].map((number) => tile(`bench-${number}`));
    expect(words(many, 20, long)).toMatch(/for 15; for 15 there is none, on 5 benches\.$/);
    const longer = planned.map((one) => ({ ...one, recorded: 1e5 }));
    expect(words([tile('bench-1'), tile('bench-2')], 20, longer)).toMatch(
      /There is no time for any of the 12 trials that are left, on 2 benches\.$/,
    );
    expect(words([done('bench-1', 3, 2)], 20, longer)).toMatch(
      /There is no time for the one trial that is left, on one bench\.$/,
    );
  });

  test('a session that is over says what was not done', () => {
    expect(words([done('bench-1', 3, 2)], 110)).toBe(
      'The time of the session is over; 5 trials are done, 1 of the plan is not.',
    );
    expect(words([done('bench-1', 3, 3)], 110)).toBe('The time of the session is over; 6 trials are done.');
  });

  test('without a length nothing is said not to fit', () => {
    const { length: _, ...session } = withStart('14:00').session;
    const now = sessionNow({ ...course, session }, planned, [tile('bench-1')], {
      now: two + 5 * minute,
      first: null,
    });
    expect(now).toMatchObject({ length: null, remaining: null });
    expect(now.message).toBe('5 min are over; 0 trials are done.');
  });
});
