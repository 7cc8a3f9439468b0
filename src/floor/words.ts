import { formatWithUncertainty } from '../quantity/index.ts';
import type { FileResult } from './results.ts';

/** How a trial that is done came out, in one sentence. */
export function resultWords({
  timeConstant,
  standardUncertainty,
  verdict,
  excluded,
  unreadable,
}: FileResult): string {
  if (verdict === 'unreadable') return `It cannot be read: ${unreadable ?? 'nothing was recorded.'}`;
  if (verdict === 'repeat') return `Repeat it: ${excluded ?? 'it gives no time constant.'}`;
  if (timeConstant === null || standardUncertainty === null) return 'It gives no time constant.';
  const { text } = formatWithUncertainty(timeConstant, standardUncertainty, { unit: 's' });
  const remarks = verdict === 'usable' ? '' : ', with remarks';
  return `Time constant ${text} (standard uncertainty): usable${remarks}.`;
}
