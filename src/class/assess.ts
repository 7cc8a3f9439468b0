import { type SubmittedQuantity, submittedQuantities } from '../experiment/index.ts';
import { departure } from './agree.ts';
import type { AssessedValue, Assessment, SubmissionFacts } from './assessment.ts';
import { explanationSentence } from './explanation-words.ts';
import type { Calculated } from './hypotheses.ts';
import { measuredSearch, nextTo, type PartSearch, predictedSearch, workedFrom } from './part-search.ts';
import { isOwnValue } from './predicted.ts';
import { type Explanation, rankHypotheses } from './slip-search.ts';
import {
  partOf,
  type SubmissionPart,
  type SubmittedValue,
  type Tolerances,
  usualTolerances,
} from './submission.ts';

/**
 * Holds submitted values against what the group's own recording and condition come to, and searches for what explains
 * those that are outside the tolerance: each slip and each pair of slips is done as a calculation. A value that is right
 * given an earlier slip follows from it, so that one slip counts once.
 *
 * @param values of one recording and its condition
 * @param tolerances the usual ones hold for quantities without
 */
export function assessSubmission(
  facts: SubmissionFacts,
  values: readonly SubmittedValue[],
  tolerances: Tolerances = {},
): Assessment {
  const parts = (['measured', 'predicted'] as const).map((part) =>
    assessPart(part, facts, values, tolerances),
  );
  return {
    values: parts.flatMap((part) => part.values),
    explanations: parts.flatMap((part) => part.explanations),
    sentences: parts.flatMap((part) => part.sentences),
  };
}

const nothing: Assessment = { values: [], explanations: [], sentences: [] };
/** What is less probable is not worth a word. */
const leastProbability = 0.02;

function assessPart(
  part: SubmissionPart,
  facts: SubmissionFacts,
  all: readonly SubmittedValue[],
  tolerances: Tolerances,
): Assessment {
  const submitted = submittedQuantities.flatMap((quantity) =>
    all.filter((value) => value.quantity === quantity && partOf(quantity) === part),
  );
  const search = searchOf(part, facts, submitted, all);
  if (search === null) return { ...nothing, values: submitted.map(untold) };
  const held = holdAll(submitted, search, tolerances);
  if (!held.some(({ state }) => state === 'outside')) return { ...nothing, values: held };
  const rank = (pairs: boolean) => {
    return rankHypotheses(part, submitted, search.hypotheses(pairs));
  };
  const single = rank(false);
  // Where one slip gives everything, two at once are far less probable.
  const ranked = single[0]?.explains.length === submitted.length ? single : rank(true);
  const outside = held.filter(({ state }) => state === 'outside').map(({ quantity }) => quantity);
  const explanations = ranked.filter((one) => one.probability >= leastProbability && speaksOf(one, outside));
  const values = carriedForward(held, explanations[0] ?? null);
  return {
    values,
    explanations: explanations.filter(({ codes }) => codes.length > 0),
    sentences: [explanationSentence(part, values, explanations)],
  };
}

/**
 * Whether every slip moves a value that is outside and explained, or brings one back that another slip has moved: nobody
 * is told of a slip that does not show.
 */
function speaksOf({ explains, moves, needs }: Explanation, outside: readonly SubmittedQuantity[]): boolean {
  const shown = outside.filter((quantity) => explains.includes(quantity));
  const showing = moves.map((moved) =>
    shown.some((quantity) => {
      const before = workedFrom[quantity];
      return moved.includes(quantity) || (before !== undefined && moved.includes(before));
    }),
  );
  const undoing = (moved: readonly SubmittedQuantity[], i: number) => {
    const others = moves.filter((_, k) => k !== i && showing[k]).flat();
    return needs[i]?.some((quantity) => moved.includes(quantity) && others.includes(quantity)) ?? false;
  };
  return moves.every((moved, i) => showing[i] || undoing(moved, i));
}

function searchOf(
  part: SubmissionPart,
  { measured, predicted }: SubmissionFacts,
  submitted: readonly SubmittedValue[],
  all: readonly SubmittedValue[],
): PartSearch | null {
  if (part === 'measured') return measured === null ? null : measuredSearch(measured, submitted);
  return predicted === null ? null : predictedSearch(predicted, submitted, all);
}

function untold({ quantity, value, rounding }: SubmittedValue): AssessedValue {
  return {
    quantity,
    submitted: value,
    rounding,
    expected: null,
    standardUncertainty: null,
    percent: null,
    inUncertainties: null,
    state: 'cannot-tell',
    slips: [],
  };
}

/** Each value beside the right one that is next to it. */
function holdAll(
  submitted: readonly SubmittedValue[],
  search: PartSearch,
  tolerances: Tolerances,
): AssessedValue[] {
  const ways = new Map<SubmittedQuantity, Calculated>();
  return submitted.map((value): AssessedValue => {
    const { quantity } = value;
    const before = workedFrom[quantity];
    const same = before === undefined ? undefined : ways.get(before);
    const right = nextTo(value, same === undefined ? search.right : [same]);
    if (right === null) return untold(value);
    ways.set(quantity, right.way);
    const uncertainty = search.uncertainties[quantity] ?? null;
    const tolerance = tolerances[quantity] ?? usualTolerances[quantity];
    const slack = search.slack[quantity] ?? 0;
    const { within, ...held } = departure(value, right.value, { uncertainty, slack, tolerance });
    const state = within === null ? 'cannot-tell' : within ? 'within' : 'outside';
    return { ...untold(value), ...held, state };
  });
}

/** Values outside that the best explanation gives: the first that a slip moves bears it, later ones follow from it. */
function carriedForward(held: readonly AssessedValue[], best: Explanation | null): readonly AssessedValue[] {
  if (best === null) return held;
  const borne = new Set<string>();
  return held.map((value) => {
    if (value.state !== 'outside' || !best.explains.includes(value.quantity)) return value;
    const slips = best.codes.filter((_, i) => best.moves[i]?.includes(value.quantity));
    const fresh = slips.filter((code) => !isOwnValue(code) && !borne.has(code));
    for (const code of fresh) borne.add(code);
    return { ...value, slips, state: fresh.length > 0 || slips.length === 0 ? 'outside' : 'follows' };
  });
}
