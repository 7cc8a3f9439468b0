import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { recordingPlace } from '../../src/experiment/index.ts';
import { textReadTwoWays } from '../../src/experiment/path-ambiguity.ts';
import {
  type PathCodes,
  type PathToken,
  parsePattern,
  type pathNames,
} from '../../src/experiment/path-pattern.ts';
import { matchPath } from '../../src/experiment/path-reading.ts';
import { experimentOf, faultsOf } from './read.ts';

const rig = [
  'sections: [A, B]',
  'benches: [bench-1, bench-2]',
  'groups: { A1: { section: A, bench: bench-1 }, B1: { section: B } }',
  'bodies: { brass-12: {}, brass-12.7: {}, bare-junction: {} }',
  'flows: { 60: 60 L/min, 120: 120 L/min }',
];
const withPattern = (pattern: string) => [...rig, `recordings: "${pattern}"`].join('\n');
const full = experimentOf(withPattern('recordings/{section}/{bench}/{group}-{body}_{flow}-{repeat}'));
const short = experimentOf(withPattern('recordings/{group}/{body}_{flow}.txt'));

describe('the path of a recording', () => {
  test('names section, group, bench, body, flow and repeat', () => {
    const read = {
      kind: 'read',
      section: 'A',
      bench: 'bench-1',
      group: 'A1',
      body: 'brass-12',
      flow: '120',
      repeat: 2,
    };
    for (const path of [
      'recordings/A/bench-1/A1-brass-12_120-2.txt',
      'recordings/A/bench-1/A1-brass-12_120-02.csv.gz',
      String.raw`recordings\A\bench-1\A1-brass-12_120-2.TXT`,
      './recordings/A/bench-1/A1-brass-12_120-2.txt',
    ]) {
      expect(recordingPlace(full, path)).toEqual(read);
    }
  });

  test('takes section and bench of a group from the file where the path does not name them', () => {
    expect(recordingPlace(short, 'recordings/A1/brass-12.7_60.txt')).toEqual({
      kind: 'read',
      section: 'A',
      bench: 'bench-1',
      group: 'A1',
      body: 'brass-12.7',
      flow: '60',
      repeat: null,
    });
    expect(recordingPlace(short, 'recordings/B1/brass-12_60.txt')).toMatchObject({
      section: 'B',
      bench: null,
    });
  });

  test.each([
    [
      'a body that is not listed',
      'recordings/A1/brass-13_60.txt',
      'body "brass-13" is not in the experiment file',
    ],
    [
      'a flow that is not listed',
      'recordings/A1/brass-12_600.txt',
      'flow "600" is not in the experiment file',
    ],
    ['a group in other letters', 'recordings/a1/brass-12_60.txt', 'group "a1" is not in the experiment file'],
  ])('is asked about for %s, which is named', (_, path, words) => {
    const place = recordingPlace(short, path);
    expect(place).toMatchObject({ kind: 'asked', reason: 'unknown-code' });
    expect(place.kind === 'asked' && place.message).toContain(words);
  });

  test.each([
    ['another ending', 'recordings/A1/brass-12_60.csv'],
    ['a folder too many', 'recordings/A/A1/brass-12_60.txt'],
    ['two codes that are not listed', 'recordings/A9/brass-13_60.txt'],
    ['a way out of the folder', 'recordings/../recordings/A1/brass-12_60.txt'],
    ['no name at all', ''],
    ['a name without end', `recordings/A1/${'brass-12_60'.repeat(1000)}.txt`],
  ])('is asked about for %s', (_, path) => {
    expect(recordingPlace(short, path)).toMatchObject({ kind: 'asked', reason: 'no-fit' });
  });

  test('is asked about for a repeat that is none', () => {
    expect(recordingPlace(full, 'recordings/A/bench-1/A1-brass-12_120-0.txt')).toMatchObject({
      kind: 'asked',
      message: expect.stringContaining('"0" is not a repeat'),
    });
  });

  test('is asked about where the file has no pattern', () => {
    expect(recordingPlace(experimentOf(rig.join('\n')), 'recordings/a.txt')).toMatchObject({ kind: 'asked' });
  });
});

describe('a pattern', () => {
  test.each([
    ['recordings/{boddy}.txt', '{boddy} is not a name here'],
    ['recordings/{body}/{body}.txt', 'twice'],
    ['recordings/{body.txt', 'partner'],
    ['recordings/*_{body}.txt', 'leave * and ? out'],
    ['../{body}.txt', 'without . or ..'],
    ['/recordings/{body}', 'without a leading /'],
    ['C:/recordings/{body}', 'without a leading /'],
  ])('%s is refused', (pattern, words) => {
    expect(faultsOf(withPattern(pattern))).toEqual([expect.stringMatching(/^6 recordings: /)]);
    expect(faultsOf(withPattern(pattern))[0]).toContain(words);
  });

  test('may only name what the file lists', () => {
    expect(faultsOf('recordings: "{group}.txt"')).toEqual([
      '1 recordings: the pattern names {group}, but this file lists no groups',
    ]);
  });

  test('that reads a path in two ways is refused, with such a path', () => {
    const codes = 'groups: { a: {}, a-b: {} }\nbodies: { b-c: {}, c: {} }\n';
    expect(faultsOf(`${codes}recordings: "{group}-{body}"`)).toEqual([
      expect.stringContaining('"a-b-c" in two ways'),
    ]);
    expect(faultsOf(`${codes}recordings: "{group}_{body}"`)).toEqual([]);
    expect(faultsOf(`${codes}recordings: "{group}/{body}"`)).toEqual([]);
    // 12 and 01, or 120 and 1.
    expect(faultsOf('flows: { 12: still, 120: still }\nrecordings: "{flow}{repeat}"')[0]).toContain(
      'in two ways',
    );
  });

  const code = fc.constantFrom('a', 'aa', 'a-a', 'a-', 'b', 'ab', 'b-a', 'a-b');
  const codeLists = fc.record({
    section: fc.constant(['s']),
    group: fc.uniqueArray(code, { minLength: 2, maxLength: 6 }),
    bench: fc.uniqueArray(code, { minLength: 1, maxLength: 3 }),
    body: fc.uniqueArray(code, { minLength: 2, maxLength: 6 }),
    flow: fc.constant(['6', '12']),
  });
  const separator = fc.constantFrom('', '', '-', '-', 'a', '/');
  const patterns = fc.tuple(separator, separator).map(([one, two]) => {
    const parsed = parsePattern(`{group}${one}{body}${two}{bench}_{flow}`);
    if (!parsed.ok) throw new Error(parsed.message);
    return parsed.tokens;
  });

  /** Every path that a pattern can stand for, with how often it is spelled: the meaning of the words, by brute force. */
  function spellings(tokens: readonly PathToken[], codes: PathCodes): Map<string, number> {
    let texts = [''];
    for (const token of tokens) {
      const options = token.kind === 'text' || token.name === 'repeat' ? ['?'] : codes[token.name];
      const pieces = token.kind === 'text' ? [token.text] : options;
      texts = texts.flatMap((text) => pieces.map((piece) => text + piece));
    }
    const counts = new Map<string, number>();
    for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
    return counts;
  }

  test('is found ambiguous exactly where two choices of codes spell the same path', () => {
    let ambiguous = 0;
    fc.assert(
      fc.property(codeLists, patterns, (codes, tokens) => {
        const counts = spellings(tokens, codes);
        const twice = textReadTwoWays(tokens, codes);
        const truly = [...counts.values()].some((count) => count > 1);
        expect(twice !== null).toBe(truly);
        if (twice === null) return;
        ambiguous += 1;
        expect(counts.get(twice)).toBeGreaterThan(1);
        expect(matchPath(`${twice}.txt`, tokens, codes)).toMatchObject({ kind: 'asked', reason: 'two-ways' });
      }),
      { seed: 11, numRuns: 400 },
    );
    expect(ambiguous).toBeGreaterThan(20);
  });

  test('gives back the codes that a path was made of, or asks', () => {
    fc.assert(
      fc.property(
        codeLists,
        patterns,
        fc.array(fc.nat(3), { minLength: 4, maxLength: 4 }),
        (codes, tokens, choices) => {
          const chosen: Partial<Record<(typeof pathNames)[number], string>> = {};
          let path = '';
          for (const [i, token] of tokens.entries()) {
            if (token.kind === 'text') path += token.text;
            else if (token.name !== 'repeat') {
              const options = codes[token.name];
              const piece = options[(choices[i % choices.length] ?? 0) % options.length] ?? '';
              chosen[token.name] = piece;
              path += piece;
            }
          }
          const match = matchPath(`${path}.txt`, tokens, codes);
          if (match.kind === 'read') expect(match.codes).toEqual(chosen);
          else expect(match.reason).toBe('two-ways');
        },
      ),
      { seed: 12 },
    );
  });

  test('answers any path at all', () => {
    const parsed = parsePattern('{group}{body}{bench}{flow}{repeat}');
    if (!parsed.ok) throw new Error(parsed.message);
    const nested = Array.from({ length: 20 }, (_, i) => 'a'.repeat(i + 1));
    const codes = { section: [], group: nested, bench: nested, body: nested, flow: nested };
    const started = performance.now();
    expect(matchPath(`${'a'.repeat(380)}b.txt`, parsed.tokens, codes).kind).toBe('asked');
    expect(performance.now() - started).toBeLessThan(2000);
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), (path) => {
        expect(['read', 'asked']).toContain(matchPath(path, parsed.tokens, codes).kind);
      }),
      { seed: 13 },
    );
  });
});
