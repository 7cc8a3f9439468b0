import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { asPlainMarkdown, fillTemplate, parseTemplate, TemplateError } from '../../src/marking/template.ts';

const filled = (text: string, values: Record<string, string>) =>
  fillTemplate(parseTemplate(text, 'feedback/x.md', ['a', 'b']), values);

describe('a text with places', () => {
  test('is filled in, and its other braces stay', () => {
    expect(filled('{a} and \\{b} and { a } {', { a: '1' })).toBe('1 and {b} and 1 {');
  });

  test('names a place that nobody fills, with its line and those that there are', () => {
    expect(() => filled('one\ntwo {mark}\n', {})).toThrow(TemplateError);
    expect(() => filled('one\ntwo {mark}\n', {})).toThrow(
      'feedback/x.md, line 2: there is no {mark} here; write one of {a}, {b}',
    );
  });

  test('leaves out lines of which nothing is there, and does not fill in what was filled in', () => {
    expect(filled('# {a}\n\n{b}\n\nend', { a: '{b}' })).toBe('# {b}\n\nend');
    expect(filled('x\n{a}{b}\ny', {})).toBe('x\ny');
  });
});

describe('text from elsewhere', () => {
  test.each([
    ['[a](javascript:alert)', '\\[a\\](javascript:alert)'],
    ['<script>', '\\<script\\>'],
    ['# title', '\\# title'],
    ['1. first', '1\\. first'],
    ['- item', '\\- item'],
    ['41.2 s', '41.2 s'],
    ['brass-12_120-1.txt', 'brass-12_120-1.txt'],
    ['_loud_', '\\_loud\\_'],
    ['&lt;', '\\&lt;'],
    ['a\n# b', 'a # b'],
  ])('is plain in Markdown: %j', (text, plain) => {
    expect(asPlainMarkdown(text)).toBe(plain);
  });

  test('never opens a tag or a link, and stays in its line', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(asPlainMarkdown(text)).not.toMatch(/(?<!\\)[<[`]|\n/);
      }),
    );
  });
});
