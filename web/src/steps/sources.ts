import type { Steps } from '../../../src/server/contract/index.ts';

type StepView = Steps['steps'][number];

/** The sources of a step, each once, with the numbers of the formulas that it stands for. */
export function sourcesOf(
  { formulas, source }: Pick<StepView, 'formulas' | 'source'>,
  step: number,
): { readonly of: string; readonly source: string }[] {
  const found = new Map<string, string[]>();
  for (const [i, formula] of formulas.entries()) {
    const numbers = found.get(formula.source) ?? [];
    numbers.push(`${step}.${i + 1}`);
    found.set(formula.source, numbers);
  }
  const sources = [...found].map(([text, numbers]) => ({ of: numbers.join(', '), source: text }));
  return source === null ? sources : [...sources, { of: '', source }];
}

const number = /^[-−]?\d+(?:\.\d+)?(?: × 10[⁻⁰¹²³⁴-⁹]+)?$/;

/** Whether a column of a table holds numbers and nothing else. */
export function isNumberColumn(cells: readonly string[]): boolean {
  return cells.length > 0 && cells.every((cell) => number.test(cell));
}
