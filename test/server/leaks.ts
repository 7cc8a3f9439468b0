/** How a time constant could be read in an answer. */

const inSeconds: Readonly<Record<string, number>> = { s: 1, ms: 1e-3, min: 60, Hz: Number.NaN };

/** What a number written with so many digits may stand for: as many significant ones as are written. */
function digitsOf(written: string): number {
  return written.replace(/^0\.0*|\D/g, '').length;
}

function isRounded(written: string, value: number): boolean {
  const digits = digitsOf(written);
  if (digits < 2 || digits > 15) return false;
  return Number(value.toPrecision(digits)) === Number(written);
}

/**
 * Times in a text that are a value in any usual rounding of two digits or more, in s, ms or min.
 *
 * @param value s
 */
export function timesLike(text: string, value: number): string[] {
  const found = text.matchAll(/(?<![\d.,])(\d+(?:[.,]\d+)?)(?:\s*±[^)]*\))?[ \u00a0\u202f]?(s|ms|min)\b/g);
  return [...found]
    .filter(([, written = '', unit = 's']) => {
      return isRounded(written.replace(',', '.'), value / (inSeconds[unit] ?? 1));
    })
    .map(([whole]) => whole);
}

/** Every text of an answer, and every number with its key. */
export function contentsOf(answer: unknown): { texts: string[]; numbers: [key: string, value: number][] } {
  const texts: string[] = [];
  const numbers: [string, number][] = [];
  const walk = (key: string, value: unknown) => {
    if (typeof value === 'string') texts.push(value);
    else if (typeof value === 'number') numbers.push([key, value]);
    else if (Array.isArray(value)) for (const one of value) walk(key, one);
    else if (typeof value === 'object' && value !== null) {
      for (const [name, one] of Object.entries(value)) walk(name, one);
    }
  };
  walk('', answer);
  return { texts, numbers };
}
