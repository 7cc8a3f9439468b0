import { formatSignificant } from './format.ts';
import type { MonteCarlo } from './monte-carlo.ts';
import { digitTolerance } from './monte-carlo-tolerance.ts';
import type { Propagated } from './propagate.ts';

/** What sets first order and Monte Carlo apart. */
export type FirstOrderFlaw = 'mean' | 'spread' | 'shape' | 'undefined';

/** Whether the first order may be used in place of the Monte Carlo. */
export interface Validation {
  readonly verdict: 'agree' | 'disagree' | 'too-few-draws';
  /** Distance of the lower ends of the two intervals, in the unit of the output. */
  readonly lowerDistance: number;
  /** Distance of the upper ends. */
  readonly upperDistance: number;
  /** Half a unit in the last figure of the standard uncertainty: as far as the ends may lie apart. */
  readonly tolerance: number;
  /** What the first order misses; empty where the two agree. */
  readonly flaws: readonly FirstOrderFlaw[];
  /** One sentence: the verdict and why. */
  readonly sentence: string;
}

/** Standard errors by which a distance must clear the tolerance for the number of draws to be enough. */
const clearBy = 3;

/**
 * Validates a first-order result by a Monte Carlo one (JCGM 101:2008, clause 8): the ends of the two coverage
 * intervals may differ by half a unit in the last figure of the standard uncertainty that counts. Taken is the
 * uncertainty from the Monte Carlo, which is not 0 where a first derivative vanishes.
 *
 * @param first of the same model, inputs, correlations and coverage
 * @param figures significant figures of the standard uncertainty that count
 * @throws RangeError for different coverages
 */
export function validate(first: Propagated, monteCarlo: MonteCarlo, figures: 1 | 2 = 2): Validation {
  if (first.coverage !== monteCarlo.coverage) {
    throw new RangeError(
      `The intervals have the coverages ${first.coverage} and ${monteCarlo.coverage}: compare equal ones.`,
    );
  }
  const tolerance = digitTolerance(monteCarlo.standardUncertainty, figures);
  const lowerDistance = Math.abs(first.interval[0] - monteCarlo.interval[0]);
  const upperDistance = Math.abs(first.interval[1] - monteCarlo.interval[1]);
  const distances = { lowerDistance, upperDistance, tolerance };
  const [lowerError, upperError] = monteCarlo.endErrors;
  const unfounded = monteCarlo.notFinite.undefined > 0;
  if (unfounded || !Number.isFinite(lowerDistance + upperDistance + tolerance)) {
    return {
      verdict: 'disagree',
      ...distances,
      flaws: ['undefined'],
      sentence: `First order and Monte Carlo cannot agree: ${
        unfounded
          ? `the model has no value for ${monteCarlo.notFinite.undefined} of ${monteCarlo.draws} draws`
          : 'one of them has no finite interval'
      }.`,
    };
  }
  // Rounding of the first-order interval, for outputs that do not vary at all.
  const rounding = 4 * Number.EPSILON * Math.max(Math.abs(first.interval[0]), Math.abs(first.interval[1]));
  const allowed = tolerance + rounding;
  const farther = Math.max(lowerDistance, upperDistance);
  const shown = (x: number) => formatSignificant(x, 2);
  const apart = `the ends of their ${percent(first.coverage)} intervals lie up to ${shown(farther)} apart`;
  const beyond = (error: number, distance: number) => distance - clearBy * error > allowed;
  if (beyond(lowerError, lowerDistance) || beyond(upperError, upperDistance)) {
    const flaws = flawsOf(first, monteCarlo, tolerance);
    return {
      verdict: 'disagree',
      ...distances,
      flaws,
      sentence: `First order and Monte Carlo do not agree: ${apart}, more than ${shown(tolerance)}; ${reasonFor(flaws, first, monteCarlo)}.`,
    };
  }
  if (lowerDistance + clearBy * lowerError <= allowed && upperDistance + clearBy * upperError <= allowed) {
    return {
      verdict: 'agree',
      ...distances,
      flaws: [],
      sentence: `First order and Monte Carlo agree: ${apart}, within ${shown(tolerance)}.`,
    };
  }
  const error = Math.max(lowerError, upperError);
  return {
    verdict: 'too-few-draws',
    ...distances,
    flaws: [],
    sentence: `${monteCarlo.draws} draws are too few to tell whether first order and Monte Carlo agree: ${apart}, known to ${shown(error)}, where ${shown(tolerance)} is allowed.`,
  };
}

/** A spread that differs by less than this part is not what sets the intervals apart. */
const equalSpread = 0.02;

function flawsOf(first: Propagated, monteCarlo: MonteCarlo, tolerance: number): FirstOrderFlaw[] {
  const flaws: FirstOrderFlaw[] = [];
  const shift = Math.abs(monteCarlo.mean - first.value);
  if (shift > Math.max(tolerance, clearBy * monteCarlo.meanError)) flaws.push('mean');
  const spread = monteCarlo.standardUncertainty / first.standardUncertainty;
  if (!(Math.abs(spread - 1) <= equalSpread)) flaws.push('spread');
  if (flaws.length === 0) flaws.push('shape');
  return flaws;
}

function reasonFor(flaws: readonly FirstOrderFlaw[], first: Propagated, monteCarlo: MonteCarlo): string {
  const shown = (x: number) => formatSignificant(x, 2);
  const reasons: string[] = [];
  if (flaws.includes('mean')) {
    reasons.push(
      `the model bends so much that the mean lies ${shown(monteCarlo.mean - first.value)} from the value`,
    );
  }
  if (flaws.includes('spread')) {
    const { standardUncertainty: u } = monteCarlo;
    reasons.push(
      `the standard uncertainty is ${shown(u)} and not ${shown(first.standardUncertainty)}, for the model bends or an input scatters more than its standard uncertainty says`,
    );
  }
  if (flaws.includes('shape')) reasons.push(`the distribution is ${shapeOf(monteCarlo)}`);
  return reasons.join(', and ');
}

/** How much longer one side of an interval must be to call it lopsided. */
const lopsided = 1.05;

function shapeOf({ interval, median }: MonteCarlo): string {
  const ratio = (interval[1] - median) / (median - interval[0]);
  if (ratio > lopsided) return 'longer upwards than downwards';
  if (1 / ratio > lopsided) return 'longer downwards than upwards';
  return 'neither normal nor that of Student, though as wide on both sides';
}

function percent(coverage: number): string {
  return `${Number((100 * coverage).toPrecision(6))} %`;
}
