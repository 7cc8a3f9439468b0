import type { SubmittedQuantity } from '../experiment/index.ts';

/** What a calculation, right or wrong, comes to, SI; null where it comes to nothing. */
export type Calculated = Readonly<Partial<Record<SubmittedQuantity, number | null>>>;

/**
 * How far a value may lie from a calculation that is otherwise the same, as a relative standard deviation: where the
 * window is cut, which table the properties came from.
 */
export type Freedom = Readonly<Partial<Record<SubmittedQuantity, number>>>;

/** Something that is done otherwise than it is taught, and the calculation that it makes. */
export interface Slip<Choices, Facts> {
  readonly code: string;
  /** What was done, as the end of a sentence: 'the logarithm to base ten was taken'. */
  readonly words: string;
  /** How often it is seen beside a right calculation, as odds (common practice, no source). */
  readonly odds: number;
  /** @returns null where these facts cannot be worked in that way, or where it changes nothing */
  readonly apply: (choices: Choices, facts: Facts) => Choices | null;
}

/** A right way of working. */
export interface Variant<Choices> {
  readonly choices: Choices;
  /** Beside the usual one, 0 to 1. */
  readonly odds: number;
}

/** A way in which values may have come about. */
export interface Hypothesis {
  readonly codes: readonly string[];
  readonly words: readonly string[];
  /** Beside a right calculation. */
  readonly odds: number;
  readonly values: Calculated;
  /** How far right work of this kind may be off. */
  readonly freedom: Freedom;
  /** The same without each of the slips, in their order. */
  readonly without: readonly Calculated[];
}

/** A pair of slips beside two single ones (common practice, no source). */
const pairOdds = 0.5;

/** What to try. */
export interface Catalogue<Choices, Facts> {
  /** Right ways of working, the usual one first. */
  readonly variants: readonly Variant<Choices>[];
  readonly slips: readonly Slip<Choices, Facts>[];
  /** In how many of the variants pairs are tried. */
  readonly pairsIn: number;
  readonly calculate: (facts: Facts, choices: Choices) => Calculated;
  readonly freedom: (facts: Facts, choices: Choices, values: Calculated) => Freedom;
}

/** What every right way of working comes to, the usual one first. */
export function rightWays<Choices, Facts>(
  facts: Facts,
  { variants, calculate }: Catalogue<Choices, Facts>,
): Calculated[] {
  return variants.map(({ choices }) => calculate(facts, choices));
}

/**
 * Every right way of working, and in each every slip and every pair of slips that the facts allow: all are done.
 *
 * @param pairs whether to try pairs as well
 */
export function hypothesesOf<Choices, Facts>(
  facts: Facts,
  { variants, slips, pairsIn, calculate, freedom }: Catalogue<Choices, Facts>,
  pairs: boolean,
): Hypothesis[] {
  return variants.flatMap(({ choices, odds }, i) => {
    const right = calculate(facts, choices);
    const single = slips.flatMap((slip) => {
      const made = slip.apply(choices, facts);
      return made === null ? [] : [{ slip, made, values: calculate(facts, made) }];
    });
    const hypotheses: Hypothesis[] = [
      { codes: [], words: [], odds, values: right, freedom: freedom(facts, choices, right), without: [] },
    ];
    for (const [k, one] of single.entries()) {
      hypotheses.push({
        codes: [one.slip.code],
        words: [one.slip.words],
        odds: odds * one.slip.odds,
        values: one.values,
        freedom: freedom(facts, one.made, one.values),
        without: [right],
      });
      if (!pairs || i >= pairsIn) continue;
      for (const other of single.slice(k + 1)) {
        const both = together(one, other, facts);
        if (both === null) continue;
        const values = calculate(facts, both);
        hypotheses.push({
          codes: [one.slip.code, other.slip.code],
          words: [one.slip.words, other.slip.words],
          odds: odds * pairOdds * one.slip.odds * other.slip.odds,
          values,
          freedom: freedom(facts, both, values),
          without: [other.values, one.values],
        });
      }
    }
    return hypotheses;
  });
}

interface Made<Choices, Facts> {
  readonly slip: Slip<Choices, Facts>;
  readonly made: Choices;
}

/** Slips about one choice undo each other in one order or the other: they cannot both be made. */
function together<Choices, Facts>(
  one: Made<Choices, Facts>,
  other: Made<Choices, Facts>,
  facts: Facts,
): Choices | null {
  const both = other.slip.apply(one.made, facts);
  const turned = one.slip.apply(other.made, facts);
  if (both === null || turned === null) return null;
  return JSON.stringify(both) === JSON.stringify(turned) ? both : null;
}

/** A slip that sets choices to certain values; it changes nothing where they have these already. */
export function choosing<Choices extends object>(
  change: Partial<Choices>,
): (choices: Choices) => Choices | null {
  return (choices) => {
    const changed = { ...choices, ...change };
    return JSON.stringify(changed) === JSON.stringify(choices) ? null : changed;
  };
}
