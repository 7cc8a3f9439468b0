import { expect, test } from 'vitest';
import { figures, formula } from '../../src/analysis/steps-formula.ts';
import { setFormulas } from '../../src/analysis/steps-mathml.ts';

const squares = (a: number, b: number) =>
  formula(
    '<a>^2 + <b>^2',
    '<a>² + <b>²',
    { a: figures(a, 3), b: figures(b, 3) },
    'common practice, no source',
  );

test('a number with a power of ten is raised as a whole', async () => {
  const written = squares(2.5e-7, 0.031);
  expect(written.plain).toBe('(2.50 × 10⁻⁷)² + 0.0310²');
  expect(written.tex).toBe('(2.50 \\times 10^{-7})^2 + 0.0310^2');
  const step = { id: 'a', title: '', text: [], formulas: [written], table: null, result: '', source: null };
  const [set] = await setFormulas([step]);
  expect(set?.formulas[0]?.mathml).toContain('<math');
});
