import { describe, expect, test } from 'vitest';
import { TrialWatch } from '../../src/live/trial-watch.ts';
import type { TrialNow } from '../../src/live/types.ts';
import { type FaultName, simulateRecording } from '../../src/practice/index.ts';
import { traceOf } from '../decay/trials.ts';
import { contextOf, type SimulatedTrial, settingsFor, trialsOf } from './trials.ts';

const brass = { body: 'brass-12', flow: '120' };
const aluminium = { body: 'aluminium-12', flow: '120' };
const bead = { body: 'bare-junction', flow: '120' };

function trialOf(
  seed: string,
  fault: FaultName | null,
  wishes: Parameters<typeof trialsOf>[2],
): SimulatedTrial {
  const [trial] = trialsOf(seed, fault, wishes);
  if (trial === undefined) throw new Error('There is no trial.');
  return trial;
}

/** The same trial, recorded for so many of its time constants after the heat-off. */
function recordedFor(trial: SimulatedTrial, length: number): SimulatedTrial {
  const { truth, trial: bench } = trial.readings;
  const until = truth.heatOff + length * (truth.timeConstant ?? Number.NaN);
  return { ...trial, readings: simulateRecording({ ...bench, length: Math.ceil(until) }) };
}

/** Looks at a trial every so many seconds from its heat-off on, and once when nothing more comes. */
function advised({ readings, condition, bench }: SimulatedTrial, every: number): TrialNow[] {
  const { logged, truth, trial } = readings;
  const { rate } = trial.logger;
  const watch = new TrialWatch(settingsFor(condition.body));
  const context = contextOf({ readings, condition, bench });
  const seen: TrialNow[] = [];
  for (let time = Math.ceil(truth.heatOff); time * rate < logged.length; time += every) {
    seen.push(watch.take(traceOf(logged.slice(0, Math.round(time * rate)), rate), context, true));
  }
  seen.push(watch.take(traceOf(logged, rate), context, false));
  return seen;
}

const actionsOf = (seen: readonly TrialNow[]) =>
  seen.map(({ advice }) => advice.action).filter((one, i, all) => one !== all[i - 1]);

describe('once it was said that a trial can be stopped', () => {
  // After ten time constants nothing of a cooling is left.
  test.each([
    [aluminium, 9, 5, 3],
    [bead, 13, 50, 0.5],
  ])('it is not taken back: %o for %d time constants', (condition, length, rate, every) => {
    const trial = recordedFor(trialOf('stop', null, { conditions: [condition], rate }), length);
    const seen = advised(trial, every);
    const first = seen.findIndex(({ advice }) => advice.action === 'stop');
    expect(first).toBeGreaterThan(0);
    // While it still grows: not only because it is over.
    expect(first).toBeLessThan(seen.length - 1);
    expect(seen[first]?.advice.message).toContain('You can stop now');
    expect(new Set(seen.slice(first).map(({ advice }) => advice.action))).toEqual(new Set(['stop']));
  });
});

describe('a trial with a fault', () => {
  test('that was stopped early is not called complete', () => {
    const seen = advised(recordedFor(trialOf('stop', null, { conditions: [brass], rate: 5 }), 1.2), 15);
    expect(actionsOf(seen).at(-1)).toBe('stop');
    expect(seen.at(-1)?.advice.message).toMatch(/ends at an error fraction of .* next time\.$/);
  });

  test('that was stopped before half of it is lost', () => {
    const seen = advised(recordedFor(trialOf('stop', null, { conditions: [brass], rate: 5 }), 0.4), 20);
    expect(actionsOf(seen).at(-1)).toBe('repeat');
  });

  test('without a jet goes on, and is said to be far from what was predicted as soon as it can be told', () => {
    const trial = recordedFor(trialOf('a', 'jet-off', { conditions: [aluminium], rate: 5 }), 1.5);
    const seen = advised(trial, 15);
    const said = seen.find(({ gates }) => {
      return gates.some(({ code, state }) => code === 'time-constant-plausible' && state === 'missed');
    });
    expect(said?.phase).toBe('cooling');
    expect(said?.advice.action).toBe('go-on');
  });
});
