import { chiSquareQuantile } from '../statistics/index.ts';
import { climb, fallenFrom, ratiosOf } from './component-search.ts';
import { designOf, type FactoredResult } from './mixed-design.ts';
import { MixedModel } from './mixed-model.ts';

/** What one factor moves results by. */
interface Component {
  readonly factor: string;
  /** Standard deviation between its levels, in the unit of the results. */
  readonly deviation: number;
  /** Approximate 95 % interval of it; without an upper end where so few levels tell none. */
  readonly interval: readonly [number, number | null];
  readonly levels: number;
  /** Share of the whole variance, 0 to 1. */
  readonly share: number;
  /** Twice the fall of the restricted log-likelihood without this factor. */
  readonly evidence: number;
  /** Whether it stands out beyond what chance makes of all factors together in one case out of twenty. */
  readonly shows: boolean;
  /** How far each level lies off, drawn in as far as chance explains it; the furthest first. */
  readonly effects: readonly { readonly level: string; readonly effect: number }[];
}

/** How much of the spread belongs to each factor. */
export interface VarianceComponents {
  /** In the order asked for. */
  readonly factors: readonly Component[];
  /** Standard deviation of repeats alike in all factors. */
  readonly residual: number;
  readonly mean: number;
  /** Of `mean`. */
  readonly standardUncertainty: number;
  readonly results: number;
}

/**
 * Evidence that chance passes for any of so many factors in one case out of twenty. A variance cannot be negative: without
 * a factor, its evidence is 0 in half of all cases (Self & Liang, J. Am. Stat. Assoc. 82 (1987) 605).
 */
const beyondChance = (factors: number) => chiSquareQuantile(1 - (2 * 0.05) / Math.max(1, factors), 1);

/** Half of the 95 % quantile of chi-square with one degree of freedom. */
const intervalFall = 1.92073;

/**
 * Standard deviations of crossed or nested random effects by restricted maximum likelihood (Patterson & Thompson,
 * Biometrika 58 (1971) 545), by Henderson's equations of the effects, so that the cost goes with the number of levels
 * and not of results. A nested factor has names that hold the outer one's, as `A/A1`. With equal numbers the values are
 * those of the analysis of variance, as long as none is negative there. Intervals reach to where the profile of the
 * likelihood has fallen by half a 95 % quantile of chi-square (Venzon & Moolgavkar, Applied Statistics 37 (1988) 87).
 *
 * @param results at least 3, finite
 * @param factors names; those with fewer than 2 levels, or with as many levels as results, say nothing and are left out
 * @returns null where there is nothing to estimate from
 */
export function varianceComponents(
  results: readonly FactoredResult[],
  factors: readonly string[],
): VarianceComponents | null {
  const told = factors.filter((factor) => {
    const levels = new Set(results.map(({ levels: of }) => of[factor] ?? ''));
    return levels.size >= 2 && levels.size < results.length;
  });
  if (results.length < 3) return null;
  // About their mean, so that nothing is lost to cancellation.
  const centre = results.reduce((sum, { value }) => sum + value, 0) / results.length;
  const centred = results.map(({ value, levels }) => ({ value: value - centre, levels }));
  if (centred.every(({ value }) => value === 0)) return null;
  const model = new MixedModel(designOf(centred, told));
  const { factors: designed } = model.design;
  const top = climb(
    model,
    told.map(() => -1),
    null,
  );
  const ratios = ratiosOf(top.logs);
  const solved = model.solve(ratios);
  if (solved === null) return null;
  const variances = ratios.map((ratio) => ratio * solved.residualVariance);
  const whole = variances.reduce((sum, v) => sum + v, 0) + solved.residualVariance;
  const { effects } = solved;
  const deviationAt = (logs: readonly number[] | null, f: number) => {
    const own = ratiosOf(logs ?? []);
    const there = logs === null ? null : model.solve(own);
    return there === null ? null : Math.sqrt((own[f] ?? 0) * there.residualVariance);
  };
  return {
    factors: told.map((factor, f): Component => {
      const start = top.logs.map((own, i) => (i === f ? Number.NEGATIVE_INFINITY : own));
      const evidence = Math.max(0, 2 * (top.likelihood - climb(model, start, f, 1e-5).likelihood));
      const low =
        evidence > 2 * intervalFall ? deviationAt(fallenFrom(model, top, f, -1, intervalFall), f) : 0;
      const high = deviationAt(fallenFrom(model, top, f, 1, intervalFall), f);
      return {
        factor,
        deviation: Math.sqrt(variances[f] ?? 0),
        interval: [low ?? 0, high],
        levels: designed[f]?.levels.length ?? 0,
        share: whole > 0 ? (variances[f] ?? 0) / whole : 0,
        evidence,
        shows: evidence > beyondChance(told.length),
        effects: (designed[f]?.levels ?? [])
          .map((level, i) => ({ level, effect: effects[f]?.[i] ?? 0 }))
          .sort((a, b) => Math.abs(b.effect) - Math.abs(a.effect)),
      };
    }),
    residual: Math.sqrt(solved.residualVariance),
    mean: solved.mean + centre,
    standardUncertainty: Math.sqrt(solved.residualVariance / solved.information),
    results: results.length,
  };
}
