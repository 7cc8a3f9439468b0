import type { RecordingSummary } from '../analysis/index.ts';
import type { SessionPlan } from '../experiment/index.ts';
import { middleCondition } from './briefing-examples.ts';

/**
 * The recording of a folder that shows best what a good one looks like: usable without a caution, counted, no copy.
 * Runs that no group made, such as reference runs, go before those of groups; then the condition in the middle of the
 * plan before the others; then the one with the least uncertainty for its time constant. The same recordings give the
 * same choice.
 *
 * @param recordings all of a folder; those that wait for their analysis cannot be chosen
 * @returns its path, or null where no recording will do
 */
export function bestExample(recordings: readonly RecordingSummary[], plan: SessionPlan): string | null {
  const middle = middleCondition(plan);
  const found = recordings.flatMap((one) => {
    const { path, place, verdict, codes, rejected, copyOf, timeConstant } = one;
    const good = verdict === 'usable' && codes.length === 0 && !rejected && copyOf === null;
    if (!good || timeConstant === null) return [];
    const inMiddle = place.body === middle?.body && place.flow === middle?.flow;
    const [low, high] = timeConstant.interval;
    return [
      { path, rank: [Number(place.group !== null), Number(!inMiddle), (high - low) / timeConstant.value] },
    ];
  });
  const [best] = found.toSorted((a, b) => compareRanks(a.rank, b.rank) || (a.path < b.path ? -1 : 1));
  return best?.path ?? null;
}

function compareRanks(a: readonly number[], b: readonly number[]): number {
  return a.map((one, i) => one - (b[i] ?? 0)).find((difference) => difference !== 0) ?? 0;
}
