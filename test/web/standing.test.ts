import { describe, expect, it } from 'vitest';
import { arrange, noCourse } from '../../web/src/experiment/arrange.ts';
import { seriesOf } from '../../web/src/experiment/series.ts';
import { standingOf, standingWords } from '../../web/src/experiment/standing.ts';
import { stripPath } from '../../web/src/experiment/strip-path.ts';
import { classNames, plainNames } from '../../web/src/frame/names.ts';
import { recordingOf } from './recording-of.ts';

describe('how the course stands', () => {
  const recordings = [
    recordingOf('A1', 'brass', '60'),
    recordingOf('A2', 'brass', '60', { verdict: 'usable-with-remarks' }),
    recordingOf('A1', 'steel', '60', { verdict: 'repeat' }),
    recordingOf('A3', 'steel', '60', { verdict: 'repeat', rejected: true }),
    recordingOf('A3', 'brass', '60', { state: 'unreadable', verdict: null }),
    recordingOf('A1', 'lead', '60', { state: 'waiting', verdict: null }),
    recordingOf('A3', 'lead', '60', { state: 'writing', verdict: null, value: null }),
  ];
  const list = { recordings, unplaced: [], progress: { done: 5, total: 6 } };
  const standing = standingOf(list, arrange(noCourse, recordings));

  it('counts every recording once', () => {
    const { usable, withRemarks, repeat, leftOut, unreadable, waiting, writing } = standing;
    expect(standing).toMatchObject({
      usable: 1,
      withRemarks: 1,
      repeat: 1,
      leftOut: 1,
      unreadable: 1,
      waiting: 1,
      writing: 1,
    });
    expect(usable + withRemarks + repeat + leftOut + unreadable + waiting + writing).toBe(recordings.length);
  });

  it('counts what others of the section have and a group has not', () => {
    // Three groups and three conditions are nine cells; seven are filled.
    expect(standing.missing).toBe(2);
  });

  it('begins with how many there are', () => {
    expect(standingWords(standing)[0]).toMatchObject({ count: 7, words: 'recordings' });
    const one = { recordings: recordings.slice(0, 1), unplaced: [], progress: { done: 1, total: 1 } };
    const words = standingWords(standingOf(one, arrange(noCourse, one.recordings)));
    expect(words.map(({ count, words: said }) => `${count} ${said}`)).toEqual(['1 recording', '1 usable']);
  });

  it('says nothing about what is not there', () => {
    const words = standingWords(standingOf({ ...list, recordings: [] }, arrange(noCourse, [])));
    expect(words).toEqual([]);
  });
});

describe('the strip', () => {
  it('keeps inside its 120 by 28 pixels', () => {
    const x = Array.from({ length: 60 }, (_, i) => i / 10 - 1);
    const path = stripPath({ x, y: x.map((v) => -v * 1.5) }) ?? '';
    const numbers = path.match(/[\d.-]+/g)?.map(Number) ?? [];
    expect(numbers.length).toBeGreaterThan(10);
    numbers.forEach((value, i) => {
      expect(value).toBeGreaterThanOrEqual(0);
      expect(value).toBeLessThanOrEqual(i % 2 === 0 ? 120 : 28);
    });
  });

  it('draws nothing from numbers that are none', () => {
    expect(stripPath({ x: [0, 1, 2], y: [Number.NaN, Number.POSITIVE_INFINITY] })).toBeNull();
    expect(stripPath({ x: [], y: [] })).toBeNull();
  });
});

describe('the lines of the collapse', () => {
  const strip = { x: [0, 1], y: [0, -1] };
  const recordings = [
    recordingOf('A1', 'brass', '60', { strip }),
    recordingOf('A2', 'brass', '60', { strip, codes: ['not-first-order'] }),
    recordingOf('A3', 'brass', '60', { strip, verdict: 'repeat', rejected: true }),
  ];

  it('has each recording on the scale of its own time constant', () => {
    const [first] = seriesOf(recordings, plainNames);
    expect(first?.timeConstant).toBe(1);
    // exp(−1): one time constant after the start 36.8 % of the step is left, by definition.
    expect(first?.errorFraction[1]).toBeCloseTo(0.367879, 6);
  });

  it('sets apart what is no exponential, and leaves out what a person left out', () => {
    expect(seriesOf(recordings, plainNames).map(({ stray }) => stray)).toEqual([null, 'not one exponential']);
  });

  it('gives unlike names, also where the groups are hidden', () => {
    const names = seriesOf(recordings, classNames({ recordings, unplaced: [] })).map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).not.toContain('A');
  });
});
