import { usualCoverage } from './coverage.ts';
import { outputDraws } from './monte-carlo-draw.ts';
import { type DrawSummary, summaryOfDraws } from './monte-carlo-summary.ts';
import { digitTolerance } from './monte-carlo-tolerance.ts';
import { type Correlation, checkInputs, type Input, type Model } from './uncertain.ts';

/** How draws are made. */
export interface MonteCarloOptions {
  /** Number of draws, whole, from 100 / (1 - coverage) to 10⁷. Default 100 000. */
  readonly draws?: number;
  /** Any integer; equal seeds give equal results. Default 1. */
  readonly seed?: number;
  readonly correlations?: readonly Correlation[];
  /** Probability of the intervals, between 0 and 1. Default 0.95. */
  readonly coverage?: number;
}

/** How draws are made until their answers are steady. */
export interface AdaptiveMonteCarloOptions extends Omit<MonteCarloOptions, 'draws'> {
  /** Significant figures of the standard uncertainty that are to be stable. Default 2. */
  readonly figures?: 1 | 2;
  /** Most draws, whole, from twice a block (the larger of 10 000 and 100 / (1 - coverage)) to 10⁷. Default 10⁶. */
  readonly mostDraws?: number;
}

/** An output from draws of the inputs. */
export interface MonteCarlo extends DrawSummary {
  readonly coverage: number;
  readonly seed: number;
}

/** An output from as many draws as its figures needed. */
export interface AdaptiveMonteCarlo extends MonteCarlo {
  /** Whether mean, standard uncertainty and both ends are stable to half a unit of the last figure. */
  readonly stable: boolean;
  /** That half unit, in the unit of the output. */
  readonly tolerance: number;
}

const usualDraws = 100_000;
const mostDrawsEver = 1e7;

/**
 * Propagation of distributions by the Monte Carlo method (JCGM 101:2008, clause 7): for models that bend within
 * the uncertainty of their inputs, and inputs that are not normal.
 *
 * @param model output from the values of the inputs; an output that is not finite is counted and told
 * @param inputs in the order in which the model takes them
 * @throws RangeError for inputs, correlations or options that cannot be used
 */
export function propagateMonteCarlo<const Inputs extends readonly Input[]>(
  model: Model<Inputs>,
  inputs: Inputs,
  options?: MonteCarloOptions,
): MonteCarlo;
export function propagateMonteCarlo(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
  options: MonteCarloOptions = {},
): MonteCarlo {
  const { draws = usualDraws, seed = 1, correlations = [], coverage = usualCoverage } = options;
  checkInputs(inputs);
  checkDraws('draws', draws, fewestDraws(coverage));
  checkSeed(seed);
  const outputs = new Float64Array(draws);
  outputDraws(model, inputs, correlations, seed)(outputs);
  return { ...summaryOfDraws(outputs, inputs, coverage), coverage, seed };
}

/**
 * The same with as many draws as it takes for the figures to be stable (JCGM 101:2008, 7.9.4).
 *
 * @throws RangeError for inputs, correlations or options that cannot be used
 */
export function propagateMonteCarloAdaptively<const Inputs extends readonly Input[]>(
  model: Model<Inputs>,
  inputs: Inputs,
  options?: AdaptiveMonteCarloOptions,
): AdaptiveMonteCarlo;
export function propagateMonteCarloAdaptively(
  model: (values: readonly number[]) => number,
  inputs: readonly Input[],
  options: AdaptiveMonteCarloOptions = {},
): AdaptiveMonteCarlo {
  const { figures = 2, mostDraws = 1e6, seed = 1, correlations = [], coverage = usualCoverage } = options;
  checkInputs(inputs);
  const block = Math.max(fewestDraws(coverage), 10_000);
  checkDraws('most draws', mostDraws, 2 * block);
  checkSeed(seed);
  const draw = outputDraws(model, inputs, correlations, seed);
  const pooled = new Float64Array(Math.floor(mostDraws / block) * block);
  const estimates: number[][] = [[], [], [], []];
  let drawn = 0;
  let stable = false;
  let tolerance = 0;
  while (!stable && drawn < pooled.length) {
    const outputs = pooled.subarray(drawn, drawn + block);
    draw(outputs);
    drawn += block;
    // The summary sorts what it is given; the order within a block does not matter.
    const { mean, standardUncertainty, interval } = summaryOfDraws(outputs, inputs, coverage);
    for (const [k, x] of [mean, standardUncertainty, ...interval].entries()) estimates[k]?.push(x);
    if (drawn === block) continue;
    tolerance = digitTolerance(meanOf(estimates[1] ?? []), figures);
    stable = estimates.every((list) => 2 * standardErrorOf(list) <= tolerance);
  }
  const summary = summaryOfDraws(pooled.slice(0, drawn), inputs, coverage);
  return { ...summary, coverage, seed, stable, tolerance };
}

/** JCGM 101:2008, 7.9.4 a). */
function fewestDraws(coverage: number): number {
  if (!(coverage > 0 && coverage < 1)) {
    throw new RangeError(`The coverage is ${coverage}: give a probability between 0 and 1.`);
  }
  // A thousandth of a draw is allowed for rounding: 1 - 0.95 is a little more than 0.05.
  return Math.ceil(100 / (1 - coverage) - 1e-3);
}

function checkDraws(name: string, draws: number, fewest: number): void {
  if (Number.isInteger(draws) && draws >= fewest && draws <= mostDrawsEver) return;
  throw new RangeError(
    `The number of ${name} is ${draws}: give a whole number from ${fewest} to ${mostDrawsEver}.`,
  );
}

function checkSeed(seed: number): void {
  if (!Number.isSafeInteger(seed)) throw new RangeError(`The seed is ${seed}: give a whole number.`);
}

function meanOf(list: readonly number[]): number {
  return list.reduce((sum, x) => sum + x, 0) / list.length;
}

/** Standard deviation of the average of a list (JCGM 101:2008, eq. 22). */
function standardErrorOf(list: readonly number[]): number {
  const mean = meanOf(list);
  const squares = list.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return Math.sqrt(squares / (list.length * (list.length - 1)));
}
