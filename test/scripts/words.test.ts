import { describe, expect, test } from 'vitest';
import {
  missingNames,
  otherNames,
  projectTexts,
  type Text,
  twiceNamed,
  wordFaults,
} from '../../scripts/words/check.ts';

const text = (path: string, content: string): Text => ({ path, area: 'source', text: content });
const concept = { name: 'sampling rate', not: ['sample rate'], in: ['source', 'docs'] } as const;

test('every concept has one name in source, page, docs, tests and examples', () => {
  expect(wordFaults(projectTexts())).toEqual([]);
}, 30_000);

describe('what is looked for', () => {
  test.each(['the sample rate', 'Sample Rates', 'const sampleRate = 1', 'sample_rate', 'sample-rate'])(
    'another name is found in %j',
    (content) => {
      expect(otherNames([text('src/a/b.ts', `first\n${content}`)], [concept])).toEqual([
        'src/a/b.ts, line 2: "sample rate"; the project says "sampling rate".',
      ]);
    },
  );

  test.each(['samples rated', 'resample rate', 'the sampling rate'])('%j is no other name', (content) => {
    expect(otherNames([text('src/a/b.ts', content)], [concept])).toEqual([]);
  });

  test('a concept that is nowhere in the docs is named', () => {
    const found = missingNames([text('src/a/b.ts', 'samplingRate')], [concept]);
    expect(found).toEqual(['"sampling rate" is nowhere in docs.']);
  });

  test('a function that two rooms export is named, one that two files of a room export is not', () => {
    const one = 'export function tell(): void {}';
    const other = 'export const tell = (x: number): string => String(x);';
    const faults = ['tell is exported by a and b: one name, one meaning.'];
    expect(twiceNamed([text('src/a/x.ts', one), text('src/b/y.ts', other)])).toEqual(faults);
    expect(twiceNamed([text('src/a/x.ts', one), text('src/a/y.ts', other)])).toEqual([]);
  });
});
