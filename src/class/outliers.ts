import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import { studentQuantile } from '../statistics/index.ts';

/** A test for one result, or one group, that does not go with the others. */
export interface OutlierTest {
  readonly statistic: number;
  /** Which of them is looked at, counted from 0. */
  readonly index: number;
  /** Limit that chance passes in 5 and in 1 of 100 cases. */
  readonly straggler: number;
  readonly outlier: number;
}

/**
 * Critical value of Grubbs' test for one result, on either side (Grubbs, Technometrics 11 (1969) 1; ISO 5725-2:2019,
 * table 5, from the t distribution).
 *
 * @param count of results, at least 3
 * @param level probability of passing it by chance, two-sided, as 0.05
 */
export function grubbsLimit(count: number, level: number): number {
  if (!(Number.isInteger(count) && count >= 3)) {
    throw new RangeError(`Grubbs' test needs at least 3 results: ${count} given`);
  }
  const t = studentQuantile(1 - level / (2 * count), count - 2);
  return ((count - 1) / Math.sqrt(count)) * Math.sqrt(t ** 2 / (count - 2 + t ** 2));
}

/**
 * Grubbs' test of the result that lies furthest from the mean.
 *
 * @param results at least 3, finite
 * @returns null where all are equal
 */
export function grubbsTest(results: readonly number[]): OutlierTest | null {
  const n = results.length;
  const straggler = grubbsLimit(n, 0.05);
  const mean = results.reduce((sum, x) => sum + x, 0) / n;
  const deviation = Math.sqrt(results.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (n - 1));
  if (!(deviation > 0)) return null;
  let index = 0;
  results.forEach((x, i) => {
    if (Math.abs(x - mean) > Math.abs((results[index] ?? mean) - mean)) index = i;
  });
  const statistic = Math.abs((results[index] ?? mean) - mean) / deviation;
  return { statistic, index, straggler, outlier: grubbsLimit(n, 0.01) };
}

/**
 * Critical value of Cochran's test for the largest of several variances (Cochran, Ann. Eugen. 11 (1941) 47; ISO
 * 5725-2:2019, table 4, from the F distribution).
 *
 * @param groups at least 2
 * @param repeats in each group, at least 2
 * @param level probability of passing it by chance
 */
export function cochranLimit(groups: number, repeats: number, level: number): number {
  if (!(groups >= 2 && repeats >= 2)) {
    throw new RangeError(
      `Cochran's test needs at least 2 groups of 2 repeats: ${groups} of ${repeats} given`,
    );
  }
  const f = fQuantile(1 - level / groups, repeats - 1, (groups - 1) * (repeats - 1));
  return f / (f + groups - 1);
}

/**
 * Cochran's test of the group whose repeats scatter most.
 *
 * @param variances of the groups, at least 2, each of as many repeats
 * @returns null where nothing scatters
 */
export function cochranTest(variances: readonly number[], repeats: number): OutlierTest | null {
  const straggler = cochranLimit(variances.length, repeats, 0.05);
  const sum = variances.reduce((total, variance) => total + variance, 0);
  if (!(sum > 0)) return null;
  const index = variances.indexOf(Math.max(...variances));
  return {
    statistic: (variances[index] ?? 0) / sum,
    index,
    straggler,
    outlier: cochranLimit(variances.length, repeats, 0.01),
  };
}
