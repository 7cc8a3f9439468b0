import { type SubmittedQuantity, submittedQuantities } from '../experiment/index.ts';
import type { Calculated, Freedom, Hypothesis } from './hypotheses.ts';
import type { SubmissionPart, SubmittedValue } from './submission.ts';

/** A way of working that gives what was handed in. */
export interface Explanation {
  readonly part: SubmissionPart;
  /** Codes of the slips; empty for the right way. */
  readonly codes: readonly string[];
  /** What was done, one for each code, as the end of a sentence. */
  readonly words: readonly string[];
  /** Probability among all that is known and all that is not, 0 to 1. */
  readonly probability: number;
  /** Values that come out as handed in. */
  readonly explains: readonly SubmittedQuantity[];
  /** What this way of working comes to. */
  readonly values: Calculated;
  /** Quantities that each slip moves, in the order of the codes. */
  readonly moves: readonly (readonly SubmittedQuantity[])[];
  /** Values that come out as handed in with each slip, and without it do not, in the order of the codes. */
  readonly needs: readonly (readonly SubmittedQuantity[])[];
}

/** Further than this, in standard deviations of that freedom and the rounding, a value is not explained. */
const reach = 3;
const usualFreedom = 0.01;
/** A value that comes from anywhere is spread over this much of its logarithm: three decades. */
const lnAnywhere = -Math.log(7);
/** One value in twenty that is off is off by itself; as often all are off by something that is not in the list. */
const lnUnknown = Math.log(0.05);
const lnHiddenPair = Math.log(0.05);
/** A smaller part of a value is not a move. */
const leastMove = 0.002;

/**
 * The hypotheses that explain values, the most probable first: by how well all values fit together and by how common
 * the slips are. A value that nothing explains does not speak against those that explain the others, but explaining
 * more counts for more. Two slips at once are believed only where they explain two values.
 *
 * @param submitted at least one value
 * @returns each set of slips once; empty where nothing explains anything
 */
export function rankHypotheses(
  part: SubmissionPart,
  submitted: readonly SubmittedValue[],
  hypotheses: readonly Hypothesis[],
): Explanation[] {
  const weighed = hypotheses
    .map((hypothesis) => ({ hypothesis, ...likelihoodOf(hypothesis, submitted) }))
    .filter(({ hypothesis, explains }) => explains.length >= Math.max(1, hypothesis.codes.length));
  const unknown = lnUnknown + submitted.length * lnAnywhere;
  const top = Math.max(unknown, ...weighed.map(({ likelihood }) => likelihood));
  const sum = weighed.reduce(
    (total, { likelihood }) => total + Math.exp(likelihood - top),
    Math.exp(unknown - top),
  );
  const explanations = new Map<string, Explanation & { readonly best: number }>();
  for (const { hypothesis, explains, likelihood } of weighed) {
    const { codes, words, values } = hypothesis;
    const key = codes.join(' ');
    const probability = Math.exp(likelihood - top) / sum;
    const other = explanations.get(key);
    if (other !== undefined && other.best >= likelihood) {
      explanations.set(key, { ...other, probability: other.probability + probability });
      continue;
    }
    explanations.set(key, {
      part,
      codes,
      words,
      probability: probability + (other?.probability ?? 0),
      explains,
      values,
      moves: movesOf(hypothesis),
      needs: needsOf(hypothesis, submitted, explains),
      best: likelihood,
    });
  }
  return [...explanations.values()]
    .map(({ best: _, ...explanation }) => explanation)
    .sort((a, b) => b.probability - a.probability || a.codes.length - b.codes.length);
}

function likelihoodOf(
  hypothesis: Hypothesis,
  submitted: readonly SubmittedValue[],
): { readonly likelihood: number; readonly explains: readonly SubmittedQuantity[] } {
  const { odds, values, freedom } = hypothesis;
  const explains: SubmittedQuantity[] = [];
  let likelihood = Math.log(odds);
  for (const value of submitted) {
    const { departure, deviation } = departureFrom(values, freedom, value);
    if (departure !== null && Math.abs(departure) <= reach * deviation) {
      explains.push(value.quantity);
      likelihood += -0.5 * (departure / deviation) ** 2 - Math.log(deviation * Math.sqrt(2 * Math.PI));
    } else {
      likelihood += lnUnknown + lnAnywhere;
    }
  }
  return { likelihood: likelihood + lnHidden(hypothesis, explains), explains };
}

/** How far the logarithm of a value is from that of a calculated one, and its standard deviation. */
function departureFrom(
  values: Calculated,
  freedom: Freedom,
  { quantity, value, rounding }: SubmittedValue,
): { readonly departure: number | null; readonly deviation: number } {
  const calculated = values[quantity] ?? null;
  const departure = calculated === null || calculated * value <= 0 ? null : Math.log(value / calculated);
  const written = rounding / Math.sqrt(3) / Math.abs(value);
  return { departure, deviation: Math.hypot(freedom[quantity] ?? usualFreedom, written) };
}

function needsOf(
  { without, freedom }: Hypothesis,
  submitted: readonly SubmittedValue[],
  explains: readonly SubmittedQuantity[],
): SubmittedQuantity[][] {
  const explained = submitted.filter(({ quantity }) => explains.includes(quantity));
  return without.map((rest) =>
    explained
      .filter((value) => {
        const { departure, deviation } = departureFrom(rest, freedom, value);
        return departure === null || Math.abs(departure) > reach * deviation;
      })
      .map(({ quantity }) => quantity),
  );
}

/** Of two slips that move the same values, each alone shows in nothing: any factor is the product of some two. */
function lnHidden(hypothesis: Hypothesis, explains: readonly SubmittedQuantity[]): number {
  if (hypothesis.codes.length < 2) return 0;
  const [one = [], other = []] = movesOf(hypothesis).map((moved) =>
    explains.filter((quantity) => moved.includes(quantity)),
  );
  return one.join(' ') === other.join(' ') ? lnHiddenPair : 0;
}

function movesOf({ values, without }: Hypothesis): SubmittedQuantity[][] {
  return without.map((rest) =>
    submittedQuantities.filter((quantity) => differ(values[quantity] ?? null, rest[quantity] ?? null)),
  );
}

function differ(a: number | null, b: number | null): boolean {
  if (a === null || b === null) return a !== b;
  return Math.abs(a - b) > leastMove * Math.max(Math.abs(a), Math.abs(b));
}
