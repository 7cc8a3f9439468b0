/** A value that a group handed in. */
export interface SubmittedValue {
  readonly name: string;
  readonly value: number;
  /** Half of the last digit that was written. */
  readonly rounding: number;
}

/** What a calculation, right or wrong, comes to, by name. */
type Calculated = Readonly<Record<string, number | null>>;

/** A way in which the values may have come about. */
export interface Hypothesis {
  readonly codes: readonly string[];
  readonly words: readonly string[];
  /** Beside a right calculation. */
  readonly odds: number;
  readonly values: Calculated;
}

/** A hypothesis held against what was handed in. */
export interface Explanation {
  readonly codes: readonly string[];
  readonly words: readonly string[];
  /** Probability among all that explain, 0 to 1. */
  readonly probability: number;
  /** Values that come out as handed in. */
  readonly explains: readonly string[];
  readonly values: Calculated;
}

/** How far a value may lie from a calculation that is otherwise the same: where the window is cut, which reading counts. */
export type Freedom = Readonly<Record<string, number>>;

/** Further than this, in standard deviations of that freedom and the rounding, a value is not explained. */
const reach = 3;

/**
 * The hypotheses that explain values best, the most probable first: by how well all values fit together and by how
 * common the slips are. A value that nothing explains does not speak against those that explain the others, but
 * explaining more counts for more.
 *
 * @param submitted at least one value
 * @param freedom relative standard deviations by name
 */
export function rankHypotheses(
  submitted: readonly SubmittedValue[],
  hypotheses: readonly Hypothesis[],
  freedom: Freedom,
): Explanation[] {
  const weighed = hypotheses.flatMap((hypothesis) => {
    let likelihood = Math.log(hypothesis.odds);
    const explains: string[] = [];
    for (const { name, value, rounding } of submitted) {
      const calculated = hypothesis.values[name] ?? null;
      const departure = calculated === null || calculated * value <= 0 ? null : Math.log(value / calculated);
      const deviation = Math.hypot(freedom[name] ?? usualFreedom, rounding / Math.sqrt(3) / Math.abs(value));
      if (departure !== null && Math.abs(departure) <= reach * deviation) {
        explains.push(name);
        likelihood += -0.5 * (departure / deviation) ** 2 - Math.log(deviation);
      } else {
        likelihood += lnUnexplained;
      }
    }
    return explains.length === 0 ? [] : [{ hypothesis, explains, likelihood }];
  });
  const top = Math.max(...weighed.map(({ likelihood }) => likelihood));
  const sum = weighed.reduce((total, { likelihood }) => total + Math.exp(likelihood - top), 0);
  return weighed
    .map(({ hypothesis: { codes, words, values }, explains, likelihood }): Explanation => {
      return { codes, words, explains, values, probability: Math.exp(likelihood - top) / sum };
    })
    .sort((a, b) => b.probability - a.probability || a.codes.length - b.codes.length);
}

const usualFreedom = 0.01;
/** A value that comes from anywhere, spread over three decades of ln. */
const lnUnexplained = -Math.log(7) - 3;
