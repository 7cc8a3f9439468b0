import { describe, expect, test } from 'vitest';
import { adviseBench } from '../../src/live/advice.ts';
import { gatesOf } from '../../src/live/gates.ts';
import type { Gate } from '../../src/live/types.ts';
import { faultNames } from '../../src/practice/fault-names.ts';
import { remarkCatalogue } from '../../src/remark/index.ts';
import { gateTellings, remarkTellings, toldAdvice, toldGate, toldRemark } from '../../src/server/told.ts';
import { contextOf, inputAt, type SimulatedTrial, trialsOf } from '../live/trials.ts';
import { timesLike } from './leaks.ts';

const conditions = [
  { body: 'brass-12', flow: '120' },
  { body: 'aluminium-20', flow: '60' },
];

/** What the gates and the advice of a trial say at some moments of it. */
function momentsOf(trial: SimulatedTrial) {
  const { length } = trial.readings.trial;
  const { heatOff } = trial.readings.truth;
  const middle = (part: number) => heatOff + part * (length - heatOff);
  return [0.6 * heatOff, middle(0.1), middle(0.3), middle(0.7), length].map((until, i, all) => {
    const done = i === all.length - 1;
    const input = inputAt(trial, until, done);
    const gates = gatesOf(input);
    const { phase, temperature } = input;
    const advice = adviseBench({
      phase,
      growing: !done,
      gates,
      temperature,
      target: null,
      forecast: null,
      worth: null,
      length: null,
    });
    return { gates, advice, found: input.timeConstant?.value ?? null };
  });
}

/** Faults that are made of the recordings of two groups. */
const pairs: ReadonlySet<string | null> = new Set(['swapped', 'same-file']);

const course = [null, ...faultNames].flatMap((fault) =>
  trialsOf('told', fault, { conditions, rate: 10, groups: pairs.has(fault) ? 2 : 1 }).map((trial) => ({
    trial,
    moments: momentsOf(trial),
    predicted: contextOf(trial).predicted?.value ?? null,
  })),
);

describe('what a group is told before the release', () => {
  test('is decided in one table by the code, and a code without an entry is not told', () => {
    const codes = Object.keys(remarkCatalogue);
    const said = codes.map((code) =>
      toldRemark({ code, severity: 'caution', message: 'About 12.3 s.', action: null }),
    );
    const told = said.flatMap((one) => one?.code ?? []);
    expect(told.toSorted()).toEqual(Object.keys(remarkTellings).toSorted());
    expect(told).not.toContain('coefficient-implausible');
    for (const code of ['made-up', 'toString', '__proto__']) {
      expect(toldRemark({ code, severity: 'caution', message: 'x', action: null })).toBeNull();
    }
  });

  test('is of every gate that a trial can have', () => {
    const seen = new Set(
      course.flatMap(({ moments }) => moments.flatMap(({ gates }) => gates.map((g) => g.code))),
    );
    expect([...seen].filter((code) => gateTellings[code] === undefined)).toEqual([]);
    // What the table names in other words did turn up here.
    expect([...seen]).toEqual(
      expect.arrayContaining(['cooling-clean', 'time-constant-plausible', 'body-plausible', 'end-reached']),
    );
  });

  test('holds no time constant, found or predicted, at any moment of any trial', () => {
    let before = 0;
    for (const { trial, moments, predicted } of course) {
      const { timeConstant } = trial.readings.truth;
      for (const { gates, advice, found } of moments) {
        const values = [timeConstant, predicted, found].filter((value) => value !== null);
        const own = gates.map(({ message, mend }) => `${message} ${mend ?? ''}`);
        const told = gates.flatMap((gate) => toldGate(gate) ?? []);
        const words = [
          ...told.map(({ message, mend }) => `${message} ${mend ?? ''}`),
          toldAdvice({ advice, gates }).message,
        ];
        for (const value of values) {
          before += own.filter((text) => timesLike(text, value).length > 0).length;
          for (const text of words) expect(timesLike(text, value), text).toEqual([]);
        }
      }
    }
    // The instructor's own sentences do hold them.
    expect(before).toBeGreaterThan(50);
  });

  test('keeps the seconds to the end of the cooling, and what the advice says of them', () => {
    const message = 'The error fraction is 0.31; 0.1 is reached in about 40 s.';
    const end: Gate = {
      code: 'end-reached',
      state: 'open',
      value: 0.31,
      limit: 0.1,
      unit: '1',
      source: 'protocol',
      message,
      mend: null,
      spoils: false,
    };
    expect(toldGate(end)?.message).toBe(message);
    const advice = { action: 'go-on', message: `Keep recording, for about 40 s. ${message}` } as const;
    expect(toldAdvice({ advice, gates: [end] })).toEqual(advice);
  });

  test('says in other words why a trial has to be repeated', () => {
    const gate: Gate = {
      code: 'cooling-clean',
      state: 'missed',
      value: 12,
      limit: 59.7,
      unit: 's',
      source: 'statistics',
      message: '12 s of clean cooling are recorded, of 60 s that a time constant wants.',
      mend: 'Repeat the trial and keep recording.',
      spoils: true,
    };
    const advice = { action: 'repeat', message: `${gate.message} ${gate.mend}` } as const;
    expect(toldAdvice({ advice, gates: [gate] }).message).toBe(
      'The clean cooling was too short. Repeat the trial and keep recording.',
    );
  });
});
