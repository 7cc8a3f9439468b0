import { describe, expect, test } from 'vitest';
import { type AdviceFacts, adviseBench } from '../../src/live/advice.ts';
import { gate } from '../../src/live/gate.ts';
import type { Gate, GateCode, GateState, Phase } from '../../src/live/types.ts';

/** A gate as invented, which says its code, and its mend where it has one. */
function gateOf(code: GateCode, state: GateState, changes: Partial<Gate> = {}): Gate {
  return gate({
    code,
    state,
    value: null,
    limit: null,
    unit: null,
    source: 'protocol',
    message: `Seen of ${code}.`,
    ...changes,
  });
}

const lasting: Pick<Gate, 'mend'> = { mend: 'Mend it.' };

/** A trial in a phase about which nothing is known. */
function facts(phase: Phase, changes: Partial<AdviceFacts> = {}): AdviceFacts {
  return {
    phase,
    growing: true,
    gates: [],
    temperature: null,
    target: null,
    forecast: null,
    worth: null,
    length: null,
    ...changes,
  };
}

describe('before the heating', () => {
  test('a recording that has hardly begun goes on', () => {
    expect(adviseBench(facts('waiting'))).toEqual({
      action: 'go-on',
      message: 'Keep recording: there are too few readings yet.',
    });
  });

  test.each(['baseline-long', 'baseline-steady'] as const)('it waits for %s, and says why', (code) => {
    for (const state of ['open', 'close'] as const) {
      const gates = [gateOf(code, state, lasting)];
      expect(adviseBench(facts('baseline', { gates }))).toEqual({
        action: 'go-on',
        message: `Seen of ${code}. Mend it.`,
      });
    }
  });

  test('with both met the heating may start, and hot air is aimed at nobody', () => {
    const gates = [gateOf('baseline-long', 'met'), gateOf('baseline-steady', 'met')];
    const advice = adviseBench(facts('baseline', { gates }));
    expect(advice.action).toBe('start');
    expect(advice.message).toContain('aimed at nobody');
  });

  test('other gates that are open keep nobody from starting', () => {
    const gates = [
      gateOf('baseline-long', 'met'),
      gateOf('baseline-steady', 'met'),
      gateOf('end-reached', 'open'),
    ];
    expect(adviseBench(facts('baseline', { gates })).action).toBe('start');
  });
});

describe('during the heating', () => {
  test('it goes on with what is left to the target', () => {
    const gates = [gateOf('target-reached', 'open', lasting), gateOf('limit-kept', 'open')];
    expect(adviseBench(facts('heating', { gates, temperature: 60, target: 95 }))).toEqual({
      action: 'go-on',
      message: 'Seen of target-reached.',
    });
  });

  test('it goes on without a target to name', () => {
    expect(adviseBench(facts('heating', { temperature: 60 }))).toEqual({
      action: 'go-on',
      message: 'The body is being heated.',
    });
  });

  test('the heat comes off at the target, and hands stay off', () => {
    const at = (temperature: number) => adviseBench(facts('heating', { temperature, target: 95 }));
    expect(at(94.9).action).toBe('go-on');
    expect(at(95).action).toBe('heat-off');
    expect(at(95).message).toContain('keep hands off the hot body');
  });

  test.each(['close', 'missed'] as const)(
    'a limit that is %s takes the heat away before the target does',
    (state) => {
      const gates = [gateOf('target-reached', 'open'), gateOf('limit-kept', state, lasting)];
      expect(adviseBench(facts('heating', { gates, temperature: 139, target: 150 }))).toEqual({
        action: 'heat-off',
        message: 'Seen of limit-kept. Mend it.',
      });
    },
  );
});

describe('during the cooling', () => {
  const end = gateOf('end-reached', 'open');

  test('it goes on for as long as is forecast', () => {
    const forecast = { remaining: 42, interval: [40, 45], coverage: 0.95, from: 'fit' } as const;
    expect(adviseBench(facts('cooling', { gates: [end], forecast }))).toEqual({
      action: 'go-on',
      message: 'Keep recording, for about 42 s. Seen of end-reached.',
    });
    expect(adviseBench(facts('cooling', { gates: [end] })).message).toBe(
      'Keep recording. Seen of end-reached.',
    );
  });

  test('a gate that spoils the trial asks for a repeat, in every phase but the heating', () => {
    const gates = [end, gateOf('jet-steady', 'missed', { ...lasting, spoils: true })];
    for (const phase of ['baseline', 'cooling', 'done'] as const) {
      expect(adviseBench(facts(phase, { gates }))).toEqual({
        action: 'repeat',
        message: 'Seen of jet-steady. Mend it.',
      });
    }
    // A body that is hot has to be cooled first, whatever else.
    expect(adviseBench(facts('heating', { gates })).action).toBe('go-on');
  });

  test('a missed gate that spoils nothing, and one that would but is not missed, ask for none', () => {
    const gates = [
      end,
      gateOf('converter-free', 'missed', lasting),
      gateOf('jet-steady', 'open', { ...lasting, spoils: true }),
    ];
    expect(adviseBench(facts('cooling', { gates })).action).toBe('go-on');
    expect(adviseBench(facts('done', { gates, worth: 0 })).action).toBe('stop');
  });
});

describe('when the end fraction is reached', () => {
  const done = (changes: Partial<AdviceFacts>) => adviseBench(facts('done', { length: 2.4, ...changes }));

  test('it goes on while that is worth more than a repeat', () => {
    expect(done({ worth: 1.01 }).action).toBe('go-on');
    expect(done({ worth: 1.01 }).message).toContain('more than a repeat in the same time');
    expect(done({ worth: 1 }).action).toBe('stop');
    expect(done({ worth: 0.99 }).message).toContain('You can stop now');
  });

  test('it stops where nobody can say what going on is worth, or for how long it has gone on', () => {
    expect(done({ worth: null }).action).toBe('stop');
    expect(done({ worth: 5, length: null }).action).toBe('stop');
  });

  test('it stops after ten time constants, where nothing of the cooling is left', () => {
    expect(done({ worth: 5, length: 9.9 }).action).toBe('go-on');
    expect(done({ worth: 5, length: 10 }).action).toBe('stop');
  });
});

describe('when no more is recorded', () => {
  const over = (gates: readonly Gate[]) =>
    adviseBench(facts('done', { growing: false, gates, worth: 5, length: 3 }));

  test('it is complete, whatever going on would have been worth', () => {
    expect(over([gateOf('end-reached', 'met')])).toEqual({
      action: 'stop',
      message: 'The recording is complete.',
    });
  });

  test('one that was stopped early is not called complete', () => {
    expect(over([gateOf('end-reached', 'missed', lasting)])).toEqual({
      action: 'stop',
      message: 'Seen of end-reached. Mend it.',
    });
  });

  test('one that was stopped so early that it is lost has to be repeated', () => {
    expect(over([gateOf('end-reached', 'missed', { ...lasting, spoils: true })]).action).toBe('repeat');
  });
});
