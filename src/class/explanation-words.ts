import type { SubmittedQuantity } from '../experiment/index.ts';
import type { AssessedValue } from './assessment.ts';
import { isOwnValue } from './predicted.ts';
import type { Explanation } from './slip-search.ts';
import type { SubmissionPart } from './submission.ts';

/** Quantities as they stand within a sentence. */
export const quantityWords: Readonly<Record<SubmittedQuantity, string>> = {
  point: 'time constant at 36.8 %',
  origin: 'time constant through the origin',
  intercept: 'time constant with an intercept',
  'standard-uncertainty': 'standard uncertainty',
  'expanded-uncertainty': 'expanded uncertainty',
  reynolds: 'Reynolds number',
  nusselt: 'Nusselt number',
  'heat-transfer-coefficient': 'heat transfer coefficient',
  predicted: 'predicted time constant',
  biot: 'Biot number',
  'predicted-standard-uncertainty': 'standard uncertainty of the prediction',
  'predicted-expanded-uncertainty': 'expanded uncertainty of the prediction',
};

/** Another explanation that is less than a tenth as probable is not mentioned. */
const worthMentioning = 0.1;
const mostMentioned = 3;

/**
 * One sentence: what explains the values outside, that several things do, or that nothing known does.
 *
 * @param values of one part, at least one outside
 * @param explanations of that part, the most probable first
 */
export function explanationSentence(
  part: SubmissionPart,
  values: readonly AssessedValue[],
  explanations: readonly Explanation[],
): string {
  const off = values.filter(({ state }) => state === 'outside' || state === 'follows');
  const best = explanations[0];
  const known = best?.codes.filter((code) => !isOwnValue(code)) ?? [];
  if (best === undefined || known.length === 0) return nothingKnown(off);
  const likely = explanations
    .filter(({ codes, probability }) => {
      return codes.some((code) => !isOwnValue(code)) && probability >= worthMentioning * best.probability;
    })
    .slice(0, mostMentioned);
  const of = part === 'measured' ? 'measured' : 'predicted';
  const rest = off.filter(({ quantity }) => !best.explains.includes(quantity));
  const unexplained = rest.length === 0 ? '' : ` That does not explain the ${listed(rest)}.`;
  if (likely.length === 1) return `The ${of} values come out if ${best.words.join(', and ')}.${unexplained}`;
  const ways = likely.map(
    ({ words, probability }) => `${words.join(', and ')} (${Math.round(100 * probability)} %)`,
  );
  return `Several things give the ${of} values: ${ways.join('; ')}.${unexplained}`;
}

function nothingKnown(off: readonly AssessedValue[]): string {
  const alone = off.filter(({ state }) => state === 'outside');
  const follow = off.filter(({ state }) => state === 'follows');
  const carried = follow.length === 0 ? '' : ` The ${listed(follow)} is right given it.`;
  return `No slip that is known gives the ${listed(alone)}: look at the working.${carried}`;
}

function listed(values: readonly AssessedValue[]): string {
  const words = values.map(({ quantity }) => quantityWords[quantity]);
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
