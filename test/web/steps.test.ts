import { describe, expect, it } from 'vitest';
import { isNumberColumn, sourcesOf } from '../../web/src/steps/sources.ts';

describe('sources of a step', () => {
  it('names each once, with the formulas that it stands for', () => {
    const formula = (source: string) => ({ mathml: '', plain: '', source });
    const step = { formulas: [formula('a'), formula('b'), formula('a')], source: 'c' };
    expect(sourcesOf(step, 4)).toEqual([
      { of: '4.1, 4.3', source: 'a' },
      { of: '4.2', source: 'b' },
      { of: '', source: 'c' },
    ]);
  });
});

describe('columns of numbers', () => {
  it('are those with nothing but numbers, powers of ten among them', () => {
    expect(isNumberColumn(['−0.12', '3', '1.4 × 10⁻⁶'])).toBe(true);
    expect(isNumberColumn(['3 s', '4 s'])).toBe(false);
    expect(isNumberColumn([])).toBe(false);
  });
});
