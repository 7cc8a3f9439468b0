import { describe, expect, test } from 'vitest';
import type { FloorNow } from '../../src/floor/index.ts';
import { gatesOf } from '../../src/live/gates.ts';
import { floorView } from '../../src/server/contract/index.ts';
import { displayFloorViewOf } from '../../src/server/floor-display.ts';
import { inputAt, trialsOf } from '../live/trials.ts';
import { contentsOf, timesLike } from './leaks.ts';

const conditions = [{ body: 'brass-12', flow: '120' }];
const trials = trialsOf('display', null, { conditions, groups: 3, rate: 10 });

/** A floor of three groups, each with a trial that is over and one that cools. */
function floor(): FloorNow {
  const benches = trials.map((one, i): FloorNow['benches'][number] => {
    const input = inputAt(one, one.readings.trial.length, true);
    const gates = gatesOf(input);
    const { timeConstant } = input;
    if (timeConstant === null) throw new Error('the trial has no time constant');
    const words = gates.map(({ message }) => message).join(' ');
    return {
      bench: `X${i + 1}`,
      group: `X${i + 1}`,
      section: 'X',
      condition: one.condition,
      repeat: 2,
      path: `recordings/X/X${i + 1}/brass-12_120-2.txt`,
      trial: {
        phase: 'done',
        since: 0,
        time: input.time,
        temperature: input.temperature,
        slope: input.slope,
        ambient: input.ambient,
        peak: input.peak,
        heatOff: one.readings.truth.heatOff,
        errorFraction: input.errorFraction,
        timeConstant: { ...timeConstant },
        forecast: null,
        gates,
        advice: { action: 'repeat', message: words },
        series: { time: [0, 1], temperature: [20, 21] },
      },
      trouble: { message: `recordings/X/X${i + 1}/b.txt cannot be read.`, mend: 'Look at it.' },
      quiet: 3,
      trials: [
        {
          path: `recordings/X/X${i + 1}/brass-12_120-1.txt`,
          condition: one.condition,
          repeat: 1,
          timeConstant: timeConstant.value,
          standardUncertainty: timeConstant.standardUncertainty,
          verdict: 'usable',
          words: `Time constant ${timeConstant.value.toFixed(1)} s: usable.`,
        },
      ],
      rig: [`X${i + 1}, gain: 201; it should be 200 ± 0.4.`],
    };
  });
  return {
    at: '2026-03-02T14:00:00.000Z',
    benches,
    calls: [{ bench: 'X1', urgency: 60, why: 'X1 has a time constant of 30 s.' }],
    session: {
      elapsed: 600,
      length: 6600,
      remaining: 6000,
      left: [{ bench: 'X2', condition: { body: 'brass-12', flow: '120' }, trials: 1, fits: true }],
      message: '6 trials are done.',
    },
    trouble: null,
  };
}

describe('the floor on a display', () => {
  const view = floorView.parse(displayFloorViewOf(floor()));

  test('names no group and no file, and calls nobody out', () => {
    const text = JSON.stringify(view);
    expect(text).not.toMatch(/X\d|recordings\/|\.txt|"X"/);
    expect(view.calls).toEqual([]);
    expect(view.names).toEqual(['bench 1', 'bench 2', 'bench 3']);
    expect(view.benches.map(({ bench }) => bench)).toEqual(view.names);
    expect(view.session.left.map(({ bench }) => bench)).toEqual(['bench 2']);
  });

  test('holds no time constant in any rounding', () => {
    const { texts } = contentsOf(view);
    const values = floor().benches.flatMap(({ trials: done }) =>
      done.flatMap((one) => one.timeConstant ?? []),
    );
    expect(values).toHaveLength(3);
    for (const value of values) {
      for (const text of texts) expect(timesLike(text, value), text).toEqual([]);
    }
    for (const { trial, trials: done } of view.benches) {
      expect(trial?.timeConstant).toBeNull();
      expect(done).toMatchObject([{ timeConstant: null, standardUncertainty: null, words: 'Usable.' }]);
    }
  });

  test('keeps what each bench measures and how far it is', () => {
    expect(view.benches[0]).toMatchObject({
      condition: { body: 'brass-12', flow: '120' },
      repeat: 2,
      trial: { phase: 'done', advice: { action: 'repeat' } },
    });
  });

  test('counts benches the same where only some of them changed', () => {
    const some = displayFloorViewOf(floor(), new Set(['X3']));
    expect(some.names).toEqual(view.names);
    expect(some.benches.map(({ bench }) => bench)).toEqual(['bench 3']);
  });
});
