import { expect, test } from 'vitest';
import { asPlainMarkdown } from '../../src/marking/template.ts';
import { blocksOf, spansOf } from '../../web/src/room/feedback-text.ts';

test('a text of the feedback comes apart into headings, lists and paragraphs', () => {
  const text = `# Thornwick: group A1

2 values: 1 within.

## brass-12_120-1

- origin: 41 s. **Look again**: off.
- point: 37 s.

Bring your
working along.
`;
  expect(blocksOf(text)).toEqual([
    { kind: 'heading', text: 'Thornwick: group A1' },
    { kind: 'paragraph', text: '2 values: 1 within.' },
    { kind: 'heading', text: 'brass-12_120-1' },
    { kind: 'list', items: ['origin: 41 s. **Look again**: off.', 'point: 37 s.'] },
    { kind: 'paragraph', text: 'Bring your working along.' },
  ]);
});

test('emphasis is weight, and nothing else of a text has a meaning', () => {
  expect(spansOf('41 s. **Look again**: <b>off</b>.')).toEqual([
    { text: '41 s. ', strong: false },
    { text: 'Look again', strong: true },
    { text: ': <b>off</b>.', strong: false },
  ]);
});

// What a sheet holds is made plain before it stands in the feedback; here it reads as it was written.
test.each(['a**b**c', '<script>', 'x_1 & `y`', '1. first', '[a](b)', '- 3'])(
  '%s stays what it is',
  (written) => {
    expect(
      spansOf(asPlainMarkdown(written))
        .map(({ text }) => text)
        .join(''),
    ).toBe(written);
    expect(spansOf(asPlainMarkdown(written)).some(({ strong }) => strong)).toBe(false);
  },
);
