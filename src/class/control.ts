/** One point of a control chart. */
export interface ControlPoint {
  /** When, as a number that rises: s since 1970, or a count. */
  readonly at: number;
  readonly value: number;
}

/** Limits that a process in control passes in about 3 of 1000 points. */
export interface ControlLimits {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
}

/** Chart of single values with their moving ranges. */
export interface IndividualsChart {
  readonly limits: ControlLimits;
  /** Standard deviation from point to point, from the moving ranges. */
  readonly deviation: number;
  readonly meanMovingRange: number;
  /** Above it a moving range is out of control. */
  readonly movingRangeLimit: number;
  /** Numbers of the points outside, from 0. */
  readonly outside: readonly number[];
  /** Of the second point of each range that is too wide. */
  readonly ranges: readonly number[];
}

/** Exponentially weighted moving average, for slow drift. */
export interface EwmaChart {
  readonly averages: readonly number[];
  /** One a point: wider until the average has filled. */
  readonly limits: readonly ControlLimits[];
  readonly outside: readonly number[];
}

/** Expected range of two normal values, in standard deviations (d2 for two). */
const rangeOfTwo = 1.128;
/** Upper limit of a moving range over its mean (D4 for two). */
const rangeFactor = 3.267;

/** Degrees of freedom of a deviation from moving ranges of two, as a part of those of the usual one (Wheeler, Advanced Topics in Statistical Process Control, 1995; from memory). */
const rangeEfficiency = 0.62;

/** Degrees of freedom of the standard deviation from the moving ranges of so many values. */
export function rangeFreedom(values: number): number {
  return rangeEfficiency * (values - 1);
}

/** What is known of a process from before. */
export interface KnownProcess {
  readonly centre: number;
  /** > 0. */
  readonly deviation: number;
}

/**
 * Individuals chart with moving ranges (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2): limits at 3 standard
 * deviations, these taken as the mean moving range over 1.128.
 *
 * @param points in order of time, at least 2, finite
 * @param known centre and deviation of earlier terms, else from these points
 * @throws RangeError with fewer than 2 points
 */
export function individualsChart(
  points: readonly ControlPoint[],
  known: KnownProcess | null = null,
): IndividualsChart {
  if (points.length < 2) throw new RangeError(`a control chart needs 2 points: ${points.length} given`);
  const values = points.map(({ value }) => value);
  const ranges = values.slice(1).map((value, i) => Math.abs(value - (values[i] ?? value)));
  const own = ranges.reduce((sum, range) => sum + range, 0) / ranges.length;
  const deviation = known?.deviation ?? own / rangeOfTwo;
  const meanMovingRange = known === null ? own : known.deviation * rangeOfTwo;
  const centre = known?.centre ?? values.reduce((sum, value) => sum + value, 0) / values.length;
  const limits = { centre, lower: centre - 3 * deviation, upper: centre + 3 * deviation };
  const movingRangeLimit = rangeFactor * meanMovingRange;
  return {
    limits,
    deviation,
    meanMovingRange,
    movingRangeLimit,
    outside: values.flatMap((value, i) => (isOutside(value, limits) ? [i] : [])),
    ranges: ranges.flatMap((range, i) => (range > movingRangeLimit ? [i + 1] : [])),
  };
}

/**
 * EWMA chart (Roberts, Technometrics 1 (1959) 239; NIST/SEMATECH e-Handbook, 6.3.2.4): a change of half to one standard
 * deviation shows sooner than in single values.
 *
 * @param weight of the newest value, above 0 and at most 1; 0.2 to 0.3 is usual
 * @param process centre and deviation of the process in control
 */
export function ewmaChart(points: readonly ControlPoint[], weight: number, process: KnownProcess): EwmaChart {
  if (!(weight > 0 && weight <= 1))
    throw new RangeError(`the weight must be above 0 and at most 1: ${weight}`);
  const { centre, deviation } = process;
  let average = centre;
  const averages: number[] = [];
  const limits: ControlLimits[] = [];
  const outside: number[] = [];
  points.forEach(({ value }, i) => {
    average = weight * value + (1 - weight) * average;
    const filled = 1 - (1 - weight) ** (2 * (i + 1));
    const reach = 3 * deviation * Math.sqrt((weight / (2 - weight)) * filled);
    const own = { centre, lower: centre - reach, upper: centre + reach };
    averages.push(average);
    limits.push(own);
    if (isOutside(average, own)) outside.push(i);
  });
  return { averages, limits, outside };
}

function isOutside(value: number, { lower, upper }: ControlLimits): boolean {
  return value < lower || value > upper;
}
