import { type BodyCandidate, bodyLikeness, type EarlierRun, expectedBodies } from '../live/index.ts';
import { median, scaledMad } from '../statistics/index.ts';
import type { ConditionSummary } from './conditions.ts';
import { type Counting, conditionKey, departureWords } from './recording.ts';

/** A recording whose time constant goes with another body than its label. */
export interface LabelMisfit {
  readonly path: string;
  readonly group: string | null;
  readonly body: string;
  readonly flow: string;
  readonly looksLike: string;
  /** A recording of the same group that looks like this one's body; null without one. */
  readonly exchangedWith: string | null;
  readonly sentence: string;
}

/** What was found of labels, and how many recordings could be held against other bodies at all. */
export interface Labels {
  readonly misfits: readonly LabelMisfit[];
  readonly checked: number;
}

/** Further from its own body than this, and nearer to another than that, in standard uncertainties (common practice, no source). */
const farFromOwn = 4;
const nearOther = 2.5;

/**
 * Which recordings look like another body than their label says. What each body shows in each flow is the prediction,
 * taught by what the class found for all conditions.
 *
 * @param candidates every condition with a prediction
 */
export function labelMisfits(
  recordings: readonly Counting[],
  conditions: readonly ConditionSummary[],
  candidates: readonly BodyCandidate[],
): Labels {
  const taught = conditions.flatMap(({ body, flow, groups }): EarlierRun[] => {
    const candidate = candidates.find((one) => one.body === body && one.flow === flow);
    if (candidate === undefined) return [];
    // In a small class one of another body draws a mean along; the median hardly.
    const sound = groups.filter(({ otherBody }) => !otherBody);
    const logs = (sound.length > 0 ? sound : groups).map(({ timeConstant }) => Math.log(timeConstant));
    // A single group may be the one whose label does not fit: what it teaches is doubted accordingly.
    const relative = logs.length < 3 ? 0.05 : (1.25 * scaledMad(logs)) / Math.sqrt(logs.length);
    return [{ candidate, bench: null, timeConstant: Math.exp(median(logs)), relative }];
  });
  const byFlow = new Map<string, ReturnType<typeof expectedBodies>>();
  for (const flow of new Set(recordings.map((one) => one.flow))) {
    const own = candidates.filter((one) => one.flow === flow);
    byFlow.set(flow, expectedBodies(own, 'its own bench', taught));
  }
  let checked = 0;
  const found = recordings.flatMap((one): Omit<LabelMisfit, 'exchangedWith' | 'sentence'>[] => {
    const { value, own, shared } = one.timeConstant;
    const likely = bodyLikeness({ value, relative: Math.hypot(own, shared) }, byFlow.get(one.flow) ?? []);
    const labelled = likely.find(({ body }) => body === one.body);
    if (labelled === undefined || likely.length < 2) return [];
    checked += 1;
    const [best] = likely;
    if (best === undefined || best.body === one.body) return [];
    if (Math.abs(labelled.score) < farFromOwn || Math.abs(best.score) > nearOther) return [];
    const { path, group, body, flow } = one;
    return [{ path, group, body, flow, looksLike: best.body }];
  });
  return { misfits: found.map((one) => told(one, found, recordings, conditions)), checked };
}

function told(
  one: Omit<LabelMisfit, 'exchangedWith' | 'sentence'>,
  all: readonly Omit<LabelMisfit, 'exchangedWith' | 'sentence'>[],
  recordings: readonly Counting[],
  conditions: readonly ConditionSummary[],
): LabelMisfit {
  const other = all.find(
    ({ group, flow, body, looksLike }) =>
      group === one.group && flow === one.flow && body === one.looksLike && looksLike === one.body,
  );
  const value = recordings.find(({ path }) => path === one.path)?.timeConstant.value ?? 1;
  const centre = conditions.find((condition) => conditionKey(condition) === conditionKey(one))?.location;
  const off = centre === undefined ? '' : ` (${departureWords(Math.log(value / centre))} from the others)`;
  const cause = other === undefined ? 'see which body it was' : 'the two may have been exchanged';
  return {
    ...one,
    exchangedWith: other?.path ?? null,
    sentence: `Labelled ${one.body}, it cools like ${one.looksLike} at ${one.flow}${off}: ${cause}.`,
  };
}
