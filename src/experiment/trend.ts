import {
  agreement,
  chiSquareQuantile,
  coverageFactor,
  type Interval,
  usualCoverage,
} from '../quantity/index.ts';
import { fitLinear, type LeastSquaresFit } from '../statistics/index.ts';

/** One condition in a trend: same material and shape throughout. */
export interface TrendPoint {
  /** m, > 0. */
  readonly diameter: number;
  /** Speed of the air at the body, m/s, > 0. */
  readonly velocity: number;
  /** Measured, s, > 0. */
  readonly measured: number;
  /** Standard uncertainty of its logarithm from what is not common to all conditions. */
  readonly relative: number;
  /** Predicted, s, > 0, by each correlation in turn; the first is the one that is used. */
  readonly predicted: readonly number[];
}

/** An exponent with its interval. */
export interface Exponent {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly interval: Interval;
}

/** How tau goes with one quantity, others held: tau in proportion to quantity^exponent. */
export interface Trend {
  readonly of: 'diameter' | 'velocity';
  readonly measured: Exponent;
  readonly predicted: Exponent;
  /** Whether the two exponents agree; `too-weak-to-tell` where they do, but would have done so anyway. */
  readonly verdict: 'agree' | 'disagree' | 'too-weak-to-tell';
  /** Mean of measured over predicted. */
  readonly level: number;
  readonly levelInterval: Interval;
  readonly points: number;
  /** Of the straight line: points less what it fits. */
  readonly degreesOfFreedom: number;
  /** Whether the points lie farther from the line than their own uncertainties explain. */
  readonly scattered: boolean;
  /** One sentence: whether the trend holds, and whether the level does. */
  readonly sentence: string;
}

/** By how much exponents of published correlations differ where only one is at hand (common practice, no source). */
const leastPredicted = 0.03;

/** Part of an exponent that would matter: 0.55 from 0.4, a turbulent wake from a laminar one. */
const practicalExponent = 0.3;
/** Difference of level that would matter. */
const practicalLevel = 0.1;

/**
 * Exponents of tau in diameter and speed, from a straight line through logarithms: ln tau = a + p ln D + q ln U, with
 * those of the two that vary. The measured exponent is as uncertain as the scatter about the line or the points' own
 * uncertainties say, whichever is more; the predicted one as far as correlations differ.
 *
 * @param points of one material and shape
 * @param levelRelative standard uncertainty of ln(measured/predicted) that all points have in common
 * @returns empty where nothing varies, or diameter and speed vary only together
 */
export function trendsOf(points: readonly TrendPoint[], levelRelative: number): Trend[] {
  const known = points.filter(({ diameter, velocity, measured, relative, predicted }) => {
    const positive = [diameter, velocity, measured, ...predicted];
    return positive.every((value) => value > 0 && Number.isFinite(value)) && relative >= 0;
  });
  const columns = [
    { of: 'diameter' as const, x: known.map(({ diameter }) => Math.log(diameter)) },
    { of: 'velocity' as const, x: known.map(({ velocity }) => Math.log(velocity)) },
  ].filter(({ x }) => Math.max(...x) - Math.min(...x) > leastRange);
  if (columns.length === 0) return [];
  const design = [known.map(() => 1), ...columns.map(({ x }) => x)];
  const fit = fitLinear(
    design,
    known.map(({ measured }) => Math.log(measured)),
  );
  if (fit === null) return [];
  const level = levelOf(known, levelRelative);
  const correlations = Math.min(...known.map(({ predicted }) => predicted.length));
  return columns.flatMap(({ of }, place) => {
    const { scattered, ...measured } = measuredExponent(design, fit, known, place + 1);
    const predicted = predictedExponent(design, known, correlations, place + 1);
    if (predicted === null) return [];
    const verdict = verdictOn(measured, predicted);
    const { degreesOfFreedom } = fit;
    const trend = {
      of,
      measured,
      predicted,
      verdict,
      ...level,
      points: known.length,
      degreesOfFreedom,
      scattered,
    };
    return [{ ...trend, sentence: sentenceOf(trend) }];
  });
}

/** Settings closer than 5 % to each other show no exponent. */
const leastRange = Math.log(1.05);

function measuredExponent(
  design: readonly (readonly number[])[],
  fit: LeastSquaresFit,
  points: readonly TrendPoint[],
  place: number,
): Exponent & { readonly scattered: boolean } {
  // What each point adds to the exponent: the fit is linear in the logarithms.
  const weights = points.map((_, i) => {
    const one = fitLinear(
      design,
      points.map((__, j) => (i === j ? 1 : 0)),
    );
    return one?.parameters[place] ?? Number.NaN;
  });
  const own = Math.hypot(...points.map(({ relative }, i) => relative * (weights[i] ?? Number.NaN)));
  const scatter = fit.degreesOfFreedom > 0 ? (fit.standardErrors[place] ?? Number.NaN) : 0;
  const byScatter = scatter > own;
  const u = Math.max(own, scatter);
  const nu = byScatter ? fit.degreesOfFreedom : Number.POSITIVE_INFINITY;
  return {
    ...exponent(fit.parameters[place] ?? Number.NaN, u, nu),
    scattered: byScatter && contradicts(scatter / own, fit.degreesOfFreedom),
  };
}

/** Whether scatter over own uncertainty is beyond chance: a chi-square test at 95 %. */
function contradicts(ratio: number, nu: number): boolean {
  return nu * ratio * ratio > chiSquareQuantile(usualCoverage, nu);
}

function predictedExponent(
  design: readonly (readonly number[])[],
  points: readonly TrendPoint[],
  correlations: number,
  place: number,
): Exponent | null {
  const values = Array.from({ length: correlations }, (_, k) => {
    const fit = fitLinear(
      design,
      points.map(({ predicted }) => Math.log(predicted[k] ?? Number.NaN)),
    );
    return fit?.parameters[place] ?? Number.NaN;
  });
  const [value] = values;
  if (value === undefined || !Number.isFinite(value)) return null;
  const half = (Math.max(...values) - Math.min(...values)) / 2;
  return exponent(value, Math.max(leastPredicted, half / Math.sqrt(3)), Number.POSITIVE_INFINITY);
}

function exponent(value: number, standardUncertainty: number, nu: number): Exponent {
  const reach = standardUncertainty === 0 ? 0 : coverageFactor(nu) * standardUncertainty;
  return { value, standardUncertainty, interval: [value - reach, value + reach] };
}

function verdictOn(measured: Exponent, predicted: Exponent): Trend['verdict'] {
  const expanded = ({ value, interval }: Exponent) =>
    (interval[1] - value) / coverageFactor(Number.POSITIVE_INFINITY);
  const found = agreement(
    { value: measured.value, standardUncertainty: expanded(measured) },
    { value: predicted.value, standardUncertainty: expanded(predicted) },
    { practical: practicalExponent },
  );
  return found.verdict;
}

function levelOf(points: readonly TrendPoint[], common: number) {
  const logs = points.map(({ measured, predicted }) => Math.log(measured / (predicted[0] ?? Number.NaN)));
  const mean = logs.reduce((sum, value) => sum + value, 0) / logs.length;
  const reach = coverageFactor(Number.POSITIVE_INFINITY, usualCoverage) * common;
  // Symmetric in the rate, as the interval of a prediction is.
  const rate = Math.exp(-mean);
  const slowest = rate - reach;
  const levelInterval: Interval = [1 / (rate + reach), slowest > 0 ? 1 / slowest : Number.POSITIVE_INFINITY];
  return { level: Math.exp(mean), levelInterval };
}

const names = { diameter: ['diameter', 'D'], velocity: ['speed of the air', 'U'] } as const;

function sentenceOf(trend: Omit<Trend, 'sentence'>): string {
  const { of, measured, predicted, verdict, level, levelInterval } = trend;
  const [name, letter] = names[of];
  const reach = (one: Exponent) => (one.interval[1] - one.value).toFixed(2);
  const found = `With the ${name}, tau goes as ${letter}^(${measured.value.toFixed(2)} ± ${reach(measured)}), by theory as ${letter}^(${predicted.value.toFixed(2)} ± ${reach(predicted)})`;
  const off = 100 * (level - 1);
  const place = `${Math.abs(off).toFixed(0)} % ${off >= 0 ? 'above' : 'below'} theory`;
  const explained = levelInterval[0] <= 1 && levelInterval[1] >= 1;
  const small = Math.abs(off) < 100 * practicalLevel;
  if (verdict === 'too-weak-to-tell') {
    return `${found}: ${weakWords(trend)}`;
  }
  if (verdict === 'disagree') return `${found}: the trend does not hold; the level lies ${place}.`;
  if (small) return `${found}: the trend holds, and the level lies ${place}.`;
  return `${found}: the trend holds although the level does not, ${place}${explained ? ', which the uncertainty of theory explains' : ', more than the uncertainty of theory explains'}.`;
}

function weakWords({ measured, points, degreesOfFreedom: nu, scattered }: Omit<Trend, 'sentence'>): string {
  const [low, high] = measured.interval.map((end) => end.toFixed(2));
  const degrees = `${nu} ${nu === 1 ? 'degree' : 'degrees'} of freedom`;
  const why = scattered
    ? ', for the points lie farther from one line than their own uncertainties explain'
    : '';
  return `${points} points, which leave ${degrees}, allow ${low} to ${high}${why}: too wide to tell whether the trend holds.`;
}
