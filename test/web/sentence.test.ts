import { describe, expect, it } from 'vitest';
import { trueMinus } from '../../src/quantity/index.ts';
import { pageWords, pieces } from '../../web/src/frame/sentence-pieces.ts';

describe('sentences as the page sets them', () => {
  it('raises exponents in brackets', () => {
    expect(pieces('tau goes as U^(-0.52 ± 0.10), by theory')).toEqual([
      { text: 'tau goes as U', raised: false },
      { text: '−0.52 ± 0.10', raised: true },
      { text: ', by theory', raised: false },
    ]);
  });

  it('leaves a sentence without exponents as it is', () => {
    expect(pieces('the trend holds')).toEqual([{ text: 'the trend holds', raised: false }]);
    expect(pieces('')).toEqual([]);
  });

  // ISO 80000-1: the minus sign of a negative number is not a hyphen; from memory.
  it('writes a minus before a number, and no other hyphen', () => {
    expect(trueMinus('from -0.60 to -0.40, brass-12 at 60, 2026-03-02, first-order')).toBe(
      'from −0.60 to −0.40, brass-12 at 60, 2026-03-02, first-order',
    );
  });

  it('names the fields of the page, not the options of the command line', () => {
    expect(pageWords('Say it with --delimiter and --time-unit ms; --out stays.')).toBe(
      'Say it with “columns parted by” and “unit of the time” ms; --out stays.',
    );
    expect(pageWords('Read the zero again; give the ambient of the jet with --ambient.')).toBe(
      'Read the zero again; mark a stretch in the jet without heat as baseline.',
    );
  });
});
