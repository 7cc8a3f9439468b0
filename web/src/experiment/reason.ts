import type { RemarkCode } from '../../../src/remark/index.ts';
import type { Summary } from '../../../src/server/contract/index.ts';

/** What a code says of a recording, in as few words as a cell has room for. */
const short: Partial<Record<RemarkCode, string>> = {
  'ambient-doubtful': 'ambient doubtful',
  'baseline-missing': 'no baseline',
  'baseline-short': 'short baseline',
  'baseline-unsteady': 'unsteady baseline',
  'chain-out-of-range': 'out of the sensor’s range',
  clipped: 'clipped',
  'coarse-resolution': 'coarse steps',
  'cooling-short': 'cooling cut short',
  gaps: 'gaps',
  'header-repeated': 'logger restarted',
  'heated-again': 'heated again',
  'heating-missing': 'no cooling found',
  'hum-heavy': 'mains hum',
  'no-time-constant': 'no time constant',
  'not-first-order': 'not one exponential',
  'numbers-guessed': 'decimal mark guessed',
  'peak-low': 'peak low',
  'peak-over-limit': 'too hot for the body',
  'rate-disagrees': 'rate in doubt',
  'rig-check-outside': 'rig check failed',
  'rig-check-stale': 'rig check too old',
  'sampling-sparse': 'few samples',
  'sampling-uneven': 'uneven sampling',
  'starts-hot': 'starts hot',
  'temperature-implausible': 'temperatures implausible',
  'time-assumed': 'time assumed',
  'time-repaired': 'time repaired',
  'unit-assumed': 'unit assumed',
  'zero-drift': 'zero drift',
};

/** What to do about a recording that cannot carry its number, by what asks for it. */
const deeds: Partial<Record<RemarkCode, string>> = {
  'cooling-short': 'Look at where it was cut; repeat the trial and record until a tenth of the step is left.',
  'not-first-order': 'Look at the residuals: was the jet moved or the flow changed? If so, repeat the trial.',
  'heating-missing': 'See whether the right channel was read; mark the cooling by hand or repeat the trial.',
  'baseline-missing': 'Give the ambient by a mark, or repeat the trial with a baseline.',
};

/** A code in words. */
function codeWords(code: string): string {
  return short[code as RemarkCode] ?? code.replaceAll('-', ' ');
}

/** A recording's codes in words, the weightiest first where an order is known; empty without codes. */
export function reasonWords({ codes }: Pick<Summary, 'codes'>): string {
  return [...new Set(codes)].map(codeWords).join(', ');
}

/** What to do about the first of the codes that asks for something. */
export function deedFor(codes: readonly string[]): string {
  for (const code of codes) {
    const deed = deeds[code as RemarkCode];
    if (deed !== undefined) return deed;
  }
  return 'Look at it again: move a mark, repeat the trial, or leave the recording out.';
}
