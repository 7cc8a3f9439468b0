import type { WorkedStep, WrittenStep } from './steps-types.ts';

/**
 * Sets the formulas of steps as MathML Core. The markup is well-formed XML with its namespace and holds no style
 * attributes, which a page's security policy may forbid.
 *
 * @throws Error where a formula is not TeX
 */
export async function setFormulas(steps: readonly WrittenStep[]): Promise<WorkedStep[]> {
  // Only who works through a recording waits for the typesetter.
  const { default: temml } = await import('temml');
  return steps.map((step) => ({
    ...step,
    formulas: step.formulas.map(({ tex, plain, source }) => ({
      mathml: plainMarkup(temml.renderToString(tex, { xml: true, displayMode: true, throwOnError: true })),
      plain,
      source,
    })),
  }));
}

/** Without styles and classes. */
function plainMarkup(mathml: string): string {
  return mathml.replace(/ (?:style|class)="[^"]*"/g, '').replace(/<mspace><\/mspace>/g, '');
}
