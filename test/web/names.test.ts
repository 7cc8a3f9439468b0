import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { classNames, groupName, plainNames } from '../../web/src/frame/names.ts';
import { recordingOf } from './recording-of.ts';

const recordings = [
  recordingOf('A3', 'brass-12', '60', { value: 60, repeat: 2, bench: 'bench-1' }),
  recordingOf('A1', 'brass-12', '60', { value: 58, bench: 'bench-2' }),
  recordingOf('A2', 'brass-12', '60', { value: null, state: 'unreadable', verdict: null }),
  recordingOf('7', 'brass-12', '120', { value: 40 }),
];
const [first = recordingOf(null, null, null)] = recordings;
const unplaced = [{ path: 'recordings/A/A9/notes.txt', message: 'does not fit' }];
const hidden = classNames({ recordings, unplaced });

describe('names as the view allows them', () => {
  it('says which group in the usual view', () => {
    expect(groupName('A3', false)).toBe('A3');
    expect(plainNames.of(first.place, first.path)).toBe('A3 brass-12 at 60, repeat 2');
    expect(plainNames.at('recordings/A/A3/x.txt')).toBe('x.txt');
    expect(plainNames.said('A3 at bench-1')).toBe('A3 at bench-1');
  });

  it('numbers recordings of a condition by their values before a class', () => {
    expect(groupName('A3', true)).toBe('a group');
    expect(recordings.map(({ place, path }) => hidden.of(place, path))).toEqual([
      'brass-12 at 60, recording 2',
      'brass-12 at 60, recording 1',
      'brass-12 at 60, recording 3',
      'brass-12 at 120, recording 1',
    ]);
    expect(hidden.of({ ...first.place, body: null }, 'recordings/A/A3/x.txt')).toBe('a recording');
    expect(hidden.at(first.path)).toBe('brass-12 at 60, recording 2');
  });

  it('hides paths and codes in sentences', () => {
    expect(hidden.said(`the same bytes as ${first.path}`)).toBe(
      'the same bytes as brass-12 at 60, recording 2',
    );
    expect(hidden.said('recordings/A/A9/notes.txt: does not fit.')).toBe('a file: does not fit.');
    expect(hidden.said('See recordings/C/C4/new.txt.')).toBe('See a file.');
    expect(hidden.said('A2 used bench-1, group A3 did not.')).toBe('a group used a bench, a group did not.');
  });

  it('names nobody who decided something', () => {
    expect(hidden.said('R. Hale took it out: the jet was touched')).toBe(
      'A person took it out: the jet was touched',
    );
    expect(hidden.said('Repeat it: R. Hale took it out: too short')).toBe(
      'Repeat it: A person took it out: too short',
    );
    expect(hidden.said('It rests on marks that R. Hale moved: a step')).not.toContain('Hale');
    expect(hidden.said('It is read as R. Hale said, with ; between columns')).not.toContain('Hale');
    expect(plainNames.said('R. Hale took it out: x')).toContain('Hale');
  });

  it('leaves a number alone that is also the code of a group', () => {
    expect(hidden.said('7 s after the heating, as group 7 saw')).toBe(
      '7 s after the heating, as a group saw',
    );
  });

  it('lets no code through, whatever stands around it', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(' ', '.', ',', ':', '(', ')', '“') }), (around) => {
        expect(hidden.said(`${around} A1 ${around}${first.path}${around} bench-2`)).not.toMatch(
          /A\d|bench-\d/,
        );
      }),
    );
  });
});
