import type { BudgetSource, Decay } from '../decay/index.ts';
import { logCoverageInterval, usualCoverage } from '../quantity/index.ts';
import type { ExpectedTimeConstant } from './plan-types.ts';

/** One recording of a condition. Uncertainties are standard, of ln tau. */
export interface MeasuredRun {
  /** What it is called, such as its path. */
  readonly name: string;
  /** s, > 0. */
  readonly timeConstant: number;
  /** From what differs from run to run: noise, drift, start and window. */
  readonly own: number;
  /** From what all runs have in common: ambient, sensor chain, time base. */
  readonly shared: number;
  readonly degreesOfFreedom: number;
}

/** A time constant from all runs of a condition. */
export interface PooledTimeConstant extends ExpectedTimeConstant {
  readonly runs: readonly MeasuredRun[];
  /** Standard uncertainties of ln tau: all, and what is left of the parts that differ from run to run. */
  readonly relative: number;
  readonly random: number;
  readonly shared: number;
  /** Standard deviation of ln tau between the runs; null for one run. */
  readonly scatter: number | null;
  readonly degreesOfFreedom: number;
  readonly coverage: number;
}

/** What a rig does alike in every run: the ambient of its jet, its sensor, its clock. */
const common: ReadonlySet<BudgetSource> = new Set(['ambient', 'chain', 'time-base']);

/** The run that an analysis stands for; null where it found no time constant. */
export function runOf(name: string, { timeConstant, budget }: Decay): MeasuredRun | null {
  if (timeConstant === null) return null;
  const part = (shared: boolean) => {
    const lines = budget.filter(({ source }) => common.has(source) === shared);
    return Math.hypot(...lines.map(({ contribution }) => contribution)) / timeConstant.value;
  };
  return {
    name,
    timeConstant: timeConstant.value,
    own: part(false),
    shared: part(true),
    degreesOfFreedom: timeConstant.degreesOfFreedom,
  };
}

/**
 * Mean of ln tau over repeats. What differs from run to run is taken from the scatter between them, with n - 1 degrees
 * of freedom (JCGM 100:2008, 4.2), or from the runs' own uncertainties where these are larger, and falls with √n; what
 * they have in common stays as it is in one run. Degrees of freedom by Welch and Satterthwaite (ibid., G.4).
 *
 * @param runs those that are no positive number are passed by
 * @param coverage probability that the interval is to hold the value with, above 0 and below 1
 * @returns null where none is left
 */
export function poolRuns(
  runs: readonly MeasuredRun[],
  coverage: number = usualCoverage,
): PooledTimeConstant | null {
  const known = runs.filter(({ timeConstant, own, shared }) => {
    return timeConstant > 0 && Number.isFinite(timeConstant) && own >= 0 && shared >= 0;
  });
  const n = known.length;
  if (n === 0) return null;
  const mean = average(known.map(({ timeConstant }) => Math.log(timeConstant)));
  const deviations = known.map(({ timeConstant }) => (Math.log(timeConstant) - mean) ** 2);
  const scatterVariance = n > 1 ? (n * average(deviations)) / (n - 1) : 0;
  const ownVariance = average(known.map(({ own }) => own * own));
  const shared = Math.sqrt(average(known.map((run) => run.shared ** 2)));
  const random = Math.sqrt(Math.max(scatterVariance, ownVariance) / n);
  const relative = Math.hypot(random, shared);
  const scatterRules = scatterVariance > ownVariance;
  const degreesOfFreedom = scatterRules
    ? (n - 1) * (relative / random) ** 4
    : sum(known.map((run) => run.degreesOfFreedom));
  const value = Math.exp(mean);
  return {
    runs: known,
    value,
    standardUncertainty: value * relative,
    interval: logCoverageInterval(value, relative, degreesOfFreedom, coverage),
    relative,
    random,
    shared,
    scatter: n > 1 ? Math.sqrt(scatterVariance) : null,
    degreesOfFreedom,
    coverage,
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function average(values: readonly number[]): number {
  return sum(values) / values.length;
}
