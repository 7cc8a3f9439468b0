import type { KnownSpread } from './look-again.ts';
import { type ClassRecording, conditionKey, groupedByName, groupName, isCounting } from './recording.ts';
import { algorithmA } from './robust.ts';

/** A condition as earlier terms found it. */
export interface EarlierCondition {
  /** Robust mean of all groups, s. */
  readonly location: number;
  readonly groups: number;
  readonly terms: number;
}

/** What earlier terms showed. */
export interface ClassKnowledge {
  /** Spread between groups of ln tau; null where too little is known of it. */
  readonly spreadOf: (body: string, flow: string) => KnownSpread | null;
  readonly earlierOf: (body: string, flow: string) => EarlierCondition | null;
}

/** Nothing is known. */
export const noKnowledge: ClassKnowledge = { spreadOf: () => null, earlierOf: () => null };

/** A spread from fewer is no better known than that of the class itself (common practice, no source). */
const fewestFreedom = 5;

/**
 * What recordings of earlier terms say of a class: in each term and condition the robust scale of the groups, put
 * together by their degrees of freedom. A condition that earlier terms hardly had takes the spread of all of them.
 *
 * @param earlier recordings, each with its term
 */
export function knowledgeFrom(earlier: readonly ClassRecording[]): ClassKnowledge {
  const counting = earlier.filter(isCounting);
  const own = new Map(
    [...groupedByName(counting, conditionKey)].map(([key, runs]) => [key, spreadsOf(runs)]),
  );
  const all = pooled([...own.values()].flatMap(({ spreads }) => spreads));
  return {
    spreadOf: (body, flow) => {
      const found = own.get(conditionKey({ body, flow }));
      return (found === undefined ? null : pooled(found.spreads)) ?? all;
    },
    earlierOf: (body, flow) => own.get(conditionKey({ body, flow }))?.earlier ?? null,
  };
}

function spreadsOf(
  runs: readonly (ClassRecording & { readonly timeConstant: { readonly value: number } })[],
) {
  const terms = [...groupedByName(runs, ({ term }) => term ?? '').values()];
  const means = terms.map((term) =>
    [...groupedByName(term, groupName).values()].map(
      (trials) =>
        trials.reduce((sum, { timeConstant }) => sum + Math.log(timeConstant.value), 0) / trials.length,
    ),
  );
  return {
    spreads: means
      .filter((groups) => groups.length >= 2)
      .map((groups) => ({ deviation: algorithmA(groups).scale, degreesOfFreedom: groups.length - 1 })),
    earlier: {
      location: Math.exp(algorithmA(means.flat()).location),
      groups: means.flat().length,
      terms: terms.length,
    },
  };
}

function pooled(spreads: readonly KnownSpread[]): KnownSpread | null {
  const degreesOfFreedom = spreads.reduce((sum, one) => sum + one.degreesOfFreedom, 0);
  if (degreesOfFreedom < fewestFreedom) return null;
  const squares = spreads.reduce((sum, one) => sum + one.degreesOfFreedom * one.deviation ** 2, 0);
  const deviation = Math.sqrt(squares / degreesOfFreedom);
  return deviation > 0 ? { deviation, degreesOfFreedom } : null;
}
