import { describe, expect, test } from 'vitest';
import { analyzeDecay } from '../../src/decay/index.ts';
import { TrialWatch } from '../../src/live/trial-watch.ts';
import type { Phase, TrialNow } from '../../src/live/types.ts';
import { coarsenBlocks } from '../../src/recording/index.ts';
import { traceOf } from '../decay/trials.ts';
import { contextOf, type SimulatedTrial, settingsFor, trialsOf } from './trials.ts';

/** A trial as it is seen once a second while it is recorded, and once when nothing more comes. */
function watched({ readings, condition, bench }: SimulatedTrial, every = 1): TrialNow[] {
  const { rate } = readings.trial.logger;
  const watch = new TrialWatch(settingsFor(condition.body));
  const context = contextOf({ readings, condition, bench });
  const seen: TrialNow[] = [];
  const { logged } = readings;
  for (let count = Math.round(every * rate); count < logged.length; count += Math.round(every * rate)) {
    seen.push(watch.take(traceOf(logged.slice(0, count), rate), context, true));
  }
  seen.push(watch.take(traceOf(logged, rate), context, false));
  return seen;
}

/** The phases that were seen, each once where it lasted. */
function phasesOf(seen: readonly TrialNow[]): Phase[] {
  return seen.map(({ phase }) => phase).filter((phase, i, all) => phase !== all[i - 1]);
}

const brass = { body: 'brass-12', flow: '120' };
const aluminium = { body: 'aluminium-12', flow: '120' };
const trials = trialsOf('live', null, { conditions: [brass, aluminium], groups: 2, rate: 20 });
const courses = trials.map((trial) => ({ trial, seen: watched(trial) }));

describe('the phases of a trial', () => {
  test('follow each other once, without coming and going', () => {
    for (const { seen } of courses) {
      expect(phasesOf(seen).filter((phase) => phase !== 'waiting')).toEqual([
        'baseline',
        'heating',
        'cooling',
        'done',
      ]);
    }
  });

  // The truth is the simulator's own; a change may be seen 2 s or 3 % of tau late.
  test('are seen soon after they began', () => {
    for (const { trial, seen } of courses) {
      const { truth } = trial.readings;
      const soon = Math.max(2, 0.03 * (truth.timeConstant ?? 0));
      const begun = (phase: Phase) => seen.find((now) => now.phase === phase)?.time ?? Number.NaN;
      // Seen once a second.
      expect(begun('heating') - truth.heatOn).toBeGreaterThan(0);
      expect(begun('heating') - truth.heatOn).toBeLessThanOrEqual(soon + 1);
      expect(begun('cooling') - truth.heatOff).toBeGreaterThan(0);
      expect(begun('cooling') - truth.heatOff).toBeLessThanOrEqual(soon + 1);
    }
  });
});

describe('a logger that writes in large pieces', () => {
  test('ends a cooling that nobody had time to analyze, and is not told that none was recorded', () => {
    for (const { trial } of courses) {
      const { readings, condition, bench } = trial;
      const { logged, truth } = readings;
      const { rate } = readings.trial.logger;
      const context = contextOf({ readings, condition, bench });
      const watch = new TrialWatch(settingsFor(condition.body));
      const hot = Math.round((truth.heatOff - 1) * rate);
      watch.take(traceOf(logged.slice(0, hot), rate), context, true);
      const now = watch.take(traceOf(logged, rate), context, true, false);
      expect(now.phase).toBe('done');
      const clean = now.gates.find(({ code }) => code === 'cooling-clean');
      expect(clean?.state).toBe('met');
      expect(Math.abs((clean?.value ?? 0) - (logged.length / rate - truth.heatOff))).toBeLessThan(3);
      // The fit says the same a little later.
      const later = watch.take(traceOf(logged, rate), context, false);
      expect(later.gates.find(({ code }) => code === 'cooling-clean')?.state).toBe('met');
    }
  });
});

describe('what is told of a trial', () => {
  test('the forecast comes from the planned time constant first and from the fit then', () => {
    for (const { trial, seen } of courses) {
      const cooling = seen.filter(({ phase }) => phase === 'cooling');
      const from = cooling.map(({ forecast }) => forecast?.from ?? null);
      expect(from).toContain('expected');
      expect(from).toContain('fit');
      expect(from).not.toContain(null);
      const { truth } = trial.readings;
      // The error fraction is counted from the heat-off that was found: hot air that dies away puts it off.
      const end = (seen.at(-1)?.heatOff ?? Number.NaN) + (truth.timeConstant ?? Number.NaN) * Math.log(10);
      // Most of the fits hold the true end; those of one trial share their noise.
      const fits = cooling.filter(({ forecast }) => forecast?.from === 'fit');
      const inside = fits.filter(({ forecast, time }) => {
        const [low, high] = forecast?.interval ?? [Number.NaN, Number.NaN];
        return low <= end - time && end - time <= high;
      });
      expect(inside.length / fits.length).toBeGreaterThan(0.6);
    }
  });

  test('a finished trial has the time constant of the whole file', () => {
    for (const { trial, seen } of courses) {
      const { readings, condition } = trial;
      const trace = traceOf(readings.logged, readings.trial.logger.rate);
      const whole = analyzeDecay(trace, settingsFor(condition.body)).timeConstant;
      const last = seen.at(-1);
      expect(last?.phase).toBe('done');
      expect(last?.timeConstant?.value).toBe(whole?.value);
      expect(last?.timeConstant?.interval).toEqual(whole?.interval);
    }
  });

  test('the advice goes from keeping on to starting, to taking the heat away, to stopping', () => {
    for (const { seen } of courses) {
      const actions = seen.map(({ advice }) => advice.action).filter((one, i, all) => one !== all[i - 1]);
      expect(actions).toContain('start');
      expect(actions.at(-1)).toBe('stop');
      expect(actions).not.toContain('repeat');
    }
  });

  test('does not depend on how often it was looked at before, as far as the phases go', () => {
    for (const { trial, seen } of courses.slice(0, 1)) {
      const seldom = watched(trial, 5);
      for (const now of seldom) {
        const same = seen.find(({ time }) => Math.abs(time - now.time) < 1e-9);
        if (now.phase === 'done' || same?.phase === 'done') continue;
        expect([now.phase, now.since]).toEqual([same?.phase, same?.since]);
      }
    }
  });

  test('the course has few points, in order', () => {
    for (const { seen } of courses) {
      for (const { series } of seen) {
        expect(series.time.length).toBeLessThanOrEqual(160);
        expect(series.time).toEqual([...series.time].sort((a, b) => a - b));
        expect(series.temperature.length).toBe(series.time.length);
      }
    }
  });

  test('a recording that is begun anew is a new trial', () => {
    const [first] = trials;
    if (first === undefined) throw new Error('no trial');
    const { logged } = first.readings;
    const { rate } = first.readings.trial.logger;
    const watch = new TrialWatch(settingsFor(first.condition.body));
    const context = contextOf(first);
    watch.take(traceOf(logged, rate), context, true);
    const anew = watch.take(traceOf(logged.slice(0, 5 * rate), rate), context, true);
    const fresh = new TrialWatch(settingsFor(first.condition.body));
    expect(anew).toEqual(fresh.take(traceOf(logged.slice(0, 5 * rate), rate), context, true));
  });

  test('an empty recording waits, and coarser blocks tell the same story', () => {
    const [first] = trials;
    if (first === undefined) throw new Error('no trial');
    const { rate } = first.readings.trial.logger;
    const watch = new TrialWatch(settingsFor(first.condition.body));
    expect(watch.take(traceOf(new Float64Array(0), rate), contextOf(first), true).phase).toBe('waiting');
    const trace = traceOf(first.readings.logged, rate);
    const coarse = { ...trace, blocks: coarsenBlocks(trace.blocks, 4) };
    expect(watch.take(coarse, contextOf(first), false).phase).toBe('done');
  });
});

test('a body that is heated twice is followed through its second cooling', () => {
  const [twice] = trialsOf('f', 'heated-twice', { conditions: [brass], rate: 10 });
  if (twice === undefined) throw new Error('no trial');
  const seen = watched(twice);
  const { truth } = twice.readings;
  expect(phasesOf(seen).slice(-5)).toEqual(['heating', 'cooling', 'heating', 'cooling', 'done']);
  const done = seen.find(({ phase }) => phase === 'done')?.time ?? Number.NaN;
  const end = truth.heatOff + (truth.timeConstant ?? Number.NaN) * Math.log(10);
  // Not before the true end; at the latest when the recording is over.
  expect(done).toBeGreaterThan(end - 0.1 * (truth.timeConstant ?? 0));
});
