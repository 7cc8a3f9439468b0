import { describe, expect, it } from 'vitest';
import { apartFrom, needsDecision } from '../../web/src/experiment/decisions.ts';
import { recordingOf } from './recording-of.ts';

const done = { done: 0, total: 0 };

describe('what needs a decision', () => {
  it('puts first what cannot be read, then what is to be repeated, and files without a place last', () => {
    const recordings = [
      recordingOf('A1', 'brass', '60', { verdict: 'repeat', codes: ['cooling-short'] }),
      recordingOf('A3', 'steel', '60', { copyOf: 'recordings/A/A2/steel_60-1.txt' }),
      recordingOf('A2', 'brass', '60', {
        state: 'unreadable',
        message: 'no numbers',
        verdict: null,
        value: null,
      }),
    ];
    const unplaced = [{ path: 'notes.txt', message: 'does not fit the pattern' }];
    const needs = needsDecision({ recordings, unplaced, progress: done });
    expect(needs.map(({ kind }) => kind)).toEqual(['unreadable', 'repeat', 'copy', 'unplaced']);
    expect(needs[0]?.why).toBe('no numbers');
    expect(needs[1]?.why).toBe('cooling cut short');
    expect(needs[2]?.why).toContain('steel_60-1.txt');
    for (const { deed } of needs) expect(deed).toMatch(/[.]$/);
  });

  it('orders recordings of one kind as a person counts', () => {
    const recordings = ['A10', 'A9'].map((group) => recordingOf(group, 'brass', '60', { verdict: 'repeat' }));
    const needs = needsDecision({ recordings, unplaced: [], progress: done });
    expect(needs.map(({ recording }) => recording?.place.group)).toEqual(['A9', 'A10']);
  });

  it('does not ask again about what a person has decided', () => {
    const recordings = [
      recordingOf('A1', 'brass', '60', { verdict: 'repeat', rejected: true }),
      recordingOf('A2', 'brass', '60', { verdict: 'repeat', decided: true }),
    ];
    expect(needsDecision({ recordings, unplaced: [], progress: done })).toEqual([]);
  });

  it('asks again where a decision does not count', () => {
    const note = 'A decision about it was made for other bytes and does not count: decide again.';
    const recordings = [recordingOf('A1', 'brass', '60', { decided: true, note })];
    const [need] = needsDecision({ recordings, unplaced: [], progress: done });
    expect(need).toMatchObject({ kind: 'idle', why: note });
  });

  it('asks nothing about usable recordings, with remarks or without', () => {
    const recordings = [
      recordingOf('A1', 'brass', '60'),
      recordingOf('A2', 'brass', '60', { verdict: 'usable-with-remarks', codes: ['zero-drift'] }),
    ];
    expect(needsDecision({ recordings, unplaced: [], progress: done })).toEqual([]);
  });

  it('names both of two whose names were exchanged', () => {
    const recordings = [
      ...['A1', 'A3', 'A4'].flatMap((group) => [
        recordingOf(group, 'brass', '120', { value: 42 }),
        recordingOf(group, 'aluminium', '120', { value: 32 }),
      ]),
      recordingOf('A2', 'brass', '120', { value: 31.2 }),
      recordingOf('A2', 'aluminium', '120', { value: 43.5 }),
    ];
    const needs = needsDecision({ recordings, unplaced: [], progress: done });
    // 43.5 / 32 = 1.36 and 31.2 / 42 = 0.74.
    expect(needs.map(({ recording, why }) => [recording?.place.group, recording?.place.body, why])).toEqual([
      ['A2', 'aluminium', '36 % above the middle of the others of its condition'],
      ['A2', 'brass', '26 % below the middle of the others of its condition'],
    ]);
  });
});

describe('standing apart from the condition', () => {
  it('is not said by one other alone', () => {
    const pair = [
      recordingOf('A1', 'brass', '60', { value: 40 }),
      recordingOf('A2', 'brass', '60', { value: 80 }),
    ];
    for (const one of pair) expect(apartFrom(one, pair)).toBeNull();
  });

  it('does not count recordings that are to be repeated or were left out', () => {
    const one = recordingOf('A1', 'brass', '60', { value: 40 });
    const all = [
      one,
      recordingOf('A2', 'brass', '60', { value: 40 }),
      recordingOf('A3', 'brass', '60', { value: 400, verdict: 'repeat' }),
      recordingOf('A4', 'brass', '60', { value: 400, rejected: true }),
      recordingOf('A5', 'brass', '60', { value: 41 }),
    ];
    expect(apartFrom(one, all)).toBeNull();
  });

  it('leaves other conditions and flows alone', () => {
    const one = recordingOf('A1', 'brass', '60', { value: 40 });
    const all = [
      one,
      ...['A2', 'A3', 'A4'].map((group) => recordingOf(group, 'brass', '120', { value: 80 })),
    ];
    expect(apartFrom(one, all)).toBeNull();
  });
});
