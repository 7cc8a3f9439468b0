import type { Read } from './written.ts';

/** How far a value that was handed in may be from the recomputed one. */
export type Tolerance =
  | {
      readonly kind: 'percent';
      /** More than 0 and at most 100. */
      readonly percent: number;
      /** What the percentage is of: the recomputed value, the one handed in, or the mean of the two. */
      readonly of: 'expected' | 'submitted' | 'mean';
    }
  | {
      readonly kind: 'uncertainties';
      /** Times the standard uncertainty of the recomputed value. */
      readonly factor: number;
    };

const percent =
  /^(\d+(?:\.\d+)?)\s*%\s*of\s+(?:the\s+)?(recomputed|submitted|mean)(?:\s+(?:value|of both))?$/i;
const multiple = /^(\d+(?:\.\d+)?)\s*(?:standard\s+)?uncertaint(?:y|ies)$/i;
const mend =
  'Write such as "3 % of the recomputed value", "3 % of the submitted value", "3 % of the mean" or "2 uncertainties".';

/** What a tolerance may be. */
export const toleranceRange = 'more than 0 % and at most 100 % of a value, or up to 100 uncertainties';

/** Reads `3 % of the recomputed value` or `2 uncertainties`: a percentage says what it is of. */
export function readTolerance(text: string): Read<Tolerance> {
  const asked = text.trim();
  const found = percent.exec(asked);
  if (found !== null) {
    const number = Number(found[1]);
    const of = found[2]?.toLowerCase();
    const whole = of === 'submitted' || of === 'mean' ? of : 'expected';
    if (number > 0 && number <= 100)
      return { ok: true, value: { kind: 'percent', percent: number, of: whole } };
    return { ok: false, message: `"${asked}" is not possible here. Write more than 0 % and at most 100 %.` };
  }
  const factor = Number(multiple.exec(asked)?.[1] ?? Number.NaN);
  if (factor > 0 && factor <= 100) return { ok: true, value: { kind: 'uncertainties', factor } };
  if (/%\s*$/.test(asked)) {
    return { ok: false, message: `"${asked}" does not say what it is a percentage of. ${mend}` };
  }
  return { ok: false, message: `"${asked}" is no tolerance. ${mend}` };
}

/** A tolerance in words, as it is written in the experiment file. */
export function toleranceWords(tolerance: Tolerance): string {
  if (tolerance.kind === 'uncertainties') {
    return `${tolerance.factor} standard ${tolerance.factor === 1 ? 'uncertainty' : 'uncertainties'}`;
  }
  const whole = {
    expected: 'the recomputed value',
    submitted: 'the submitted value',
    mean: 'the mean of both',
  };
  return `${tolerance.percent} % of ${whole[tolerance.of]}`;
}
