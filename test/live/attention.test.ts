import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CalledBench, callsOf } from '../../src/live/attention.ts';
import type { BenchAdvice, Gate, GateCode, GateState, Phase, TrialNow } from '../../src/live/types.ts';

function gate(code: GateCode, state: GateState, message = `The gate ${code}.`): Gate {
  return {
    code,
    state,
    value: 1,
    limit: 1,
    unit: 's',
    source: 'protocol',
    message,
    mend: null,
    spoils: false,
  };
}

function trial(phase: Phase, action: BenchAdvice['action'], gates: readonly Gate[] = []): TrialNow {
  return {
    phase,
    since: 0,
    time: 60,
    temperature: 60,
    slope: 0,
    ambient: 20,
    peak: null,
    heatOff: null,
    errorFraction: null,
    timeConstant: null,
    forecast: null,
    gates,
    advice: { action, message: `Advice to ${action}.` },
    series: { time: [], temperature: [] },
  };
}

function bench(name: string, changes: Partial<CalledBench> = {}): CalledBench {
  return { bench: name, trial: null, trouble: null, quiet: 0, trials: [], rig: [], ...changes };
}

describe('the order of attention', () => {
  test('is what is spoiled within seconds, then what is being lost, then what costs a trial, then what can wait', () => {
    const benches = [
      bench('idle', { quiet: 400 }),
      bench('checks', { rig: ['The gain is 3 % off.'], trial: trial('cooling', 'go-on') }),
      bench('may stop', { trial: trial('cooling', 'stop') }),
      bench('well', {
        trial: trial('cooling', 'go-on', [gate('rate-planned', 'met'), gate('end-reached', 'open')]),
      }),
      bench('spoiled', { trial: trial('done', 'repeat') }),
      bench('spoiled, going on', { trial: trial('cooling', 'repeat') }),
      bench('silent', { trial: trial('cooling', 'go-on'), quiet: 40 }),
      bench('heat off', { trial: trial('heating', 'heat-off') }),
      bench('near', { trial: trial('heating', 'go-on', [gate('limit-kept', 'close')]) }),
      bench('over', { trial: trial('heating', 'go-on', [gate('limit-kept', 'missed')]) }),
      bench('unread', { trouble: { message: 'The file is locked.' } }),
      bench('unsteady', { trial: trial('baseline', 'go-on', [gate('baseline-steady', 'close')]) }),
    ];
    expect(callsOf(benches).map((call) => call.bench)).toEqual([
      'over',
      'near',
      'heat off',
      'silent',
      'unread',
      'spoiled, going on',
      'spoiled',
      'unsteady',
      'may stop',
      'checks',
      'idle',
    ]);
  });

  test('names the gravest reason of a bench, once', () => {
    const gates = [gate('limit-kept', 'missed', 'It reached 150 °C.'), gate('baseline-long', 'missed')];
    const calls = callsOf([
      bench('one', { trial: trial('heating', 'go-on', gates), rig: ['A check failed.'] }),
    ]);
    expect(calls).toEqual([{ bench: 'one', urgency: 100, why: 'It reached 150 °C.' }]);
  });

  test('a bench that has to repeat for the second time comes before one that does so for the first', () => {
    const spoiled = trial('done', 'repeat');
    const calls = callsOf([
      bench('first', { trial: spoiled }),
      bench('second', { trial: spoiled, trials: [{ verdict: 'repeat' }] }),
    ]);
    expect(calls.map((call) => call.bench)).toEqual(['second', 'first']);
  });

  test('a file that rests after its trial is not called silent', () => {
    expect(callsOf([bench('one', { trial: trial('done', 'go-on'), quiet: 40 })])).toEqual([]);
    expect(callsOf([bench('one', { trial: trial('done', 'go-on'), quiet: 3700 })])[0]?.why).toBe(
      'Nothing was recorded for 62 min.',
    );
  });

  test('does not hang on the order in which benches are given', () => {
    const states: readonly CalledBench[] = [
      bench('a', { trial: trial('cooling', 'stop') }),
      bench('b', { trial: trial('cooling', 'stop') }),
      bench('c', { quiet: 1000 }),
      bench('d', { trial: trial('heating', 'heat-off') }),
    ];
    const known = callsOf(states);
    fc.assert(
      fc.property(fc.shuffledSubarray([...states], { minLength: 4 }), (shuffled) => {
        expect(callsOf(shuffled)).toEqual(known);
      }),
      { seed: 7, numRuns: 30 },
    );
  });
});
