import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { documentHtml, type OwnPicture, ownParts, ownWords } from '../../src/report/index.ts';

const picture: OwnPicture = { bytes: new Uint8Array([1]), type: 'image/png' };
const pictures = new Map([['valve.png', picture]]);

describe('own words', () => {
  // Each as CommonMark 0.31.2 reads it: paragraphs 4.8, list items 5.2, emphasis and strong emphasis 6.2, code 6.1.
  test.each([
    ['one\ntwo\n\nthree', [['one two'], ['three']]],
    [
      'a *b* **c** `d`',
      [
        [
          'a ',
          { kind: 'emphasis', text: 'b' },
          ' ',
          { kind: 'strong', text: 'c' },
          ' ',
          { kind: 'code', text: 'd' },
        ],
      ],
    ],
    ['2 * 3 * 4', [['2 * 3 * 4']]],
    ['snake_case_name', [['snake_case_name']]],
    ['<b>no</b>', [['<b>no</b>']]],
  ])('%j are paragraphs', (text, expected) => {
    const { blocks } = ownWords(text, pictures);
    expect(blocks).toEqual(expected.map((runs) => ({ kind: 'paragraph', text: runs })));
  });

  test('reads lists, and lines that go on', () => {
    expect(ownWords('- a\n  more\n- b\n\n1. c\n2) d', pictures).blocks).toEqual([
      { kind: 'list', ordered: false, items: [['a more'], ['b']] },
      { kind: 'list', ordered: true, items: [['c'], ['d']] },
    ]);
  });

  test('takes a picture that lies beside it, with its words', () => {
    const { blocks, faults } = ownWords('![The blue valve](valve.png)', pictures);
    expect(faults).toEqual([]);
    expect(blocks).toMatchObject([
      { kind: 'picture', picture: { alt: 'The blue valve', type: 'image/png' } },
    ]);
  });

  test.each([
    '../valve.png',
    '/etc/passwd',
    'https://example.org/a.png',
    'data:image/png;base64,AA',
    'x.png',
    '',
  ])('leaves the picture %j out and says so', (name) => {
    const { blocks, faults } = ownWords(`first\n\n![x](${name})`, pictures);
    expect(blocks).toHaveLength(1);
    expect(faults[0]).toContain('Line 3');
  });

  test('asks for words for those who do not see a picture', () => {
    expect(ownWords('![](valve.png)', pictures).faults[0]).toContain('Write what it shows');
  });

  test('bears anything, and nothing of it becomes markup', async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: 'grapheme', maxLength: 200 }), async (text) => {
        const { blocks } = ownWords(`<img src=x onerror=alert(1)> ${text}`, pictures);
        const html = await documentHtml({ title: 't', subtitle: null, foot: '', density: 'usual', blocks });
        expect(html).not.toContain('<img src=x');
      }),
      { seed: 3, numRuns: 30 },
    );
  });

  test('reads a long line of marks in no time', () => {
    const before = performance.now();
    ownWords('*_`'.repeat(40_000), pictures);
    ownWords('**a'.repeat(20_000), pictures);
    expect(performance.now() - before).toBeLessThan(2000);
  });
});

describe('own words in their folder', () => {
  test('go to the part that the file is named after; other names are answered', () => {
    const texts = new Map([
      ['set-up', 'here'],
      ['set-upp', 'nowhere'],
      ['watch', '![x](missing.png)'],
    ]);
    const { own, faults } = ownParts({ texts, pictures, faults: ['from the store'] });
    expect(own.get('set-up')).toEqual([{ kind: 'paragraph', text: ['here'] }]);
    expect([...own.keys()]).toEqual(['set-up', 'watch']);
    expect(faults).toHaveLength(3);
    expect(faults[1]).toContain('briefing/set-upp.md belongs to no part');
    expect(faults[2]).toContain('briefing/watch.md: Line 1');
  });
});
