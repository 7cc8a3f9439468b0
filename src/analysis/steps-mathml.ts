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

/** Mathematical italic letters begin here: capitals, then small ones. */
const italicLetters = 0x1d434;

/**
 * Without styles and classes. Names of several letters say themselves whether they stand upright, and in ordinary
 * letters, so that no mathematical font is needed to read them.
 */
function plainMarkup(mathml: string): string {
  return mathml
    .replace(/ (?:style|class)="[^"]*"/g, '')
    .replace(/<mspace><\/mspace>/g, '')
    .replace(/<mi>([A-Za-z]{2,})<\/mi>/g, '<mi mathvariant="normal">$1</mi>')
    .replace(/[\u{1d434}-\u{1d467}]/gu, (letter) => {
      const place = (letter.codePointAt(0) ?? italicLetters) - italicLetters;
      return String.fromCharCode(place < 26 ? 65 + place : 71 + place);
    });
}
