import { choleskyFactor, choleskySolve } from '../statistics/index.ts';
import type { CorrelationCell } from './nusselt-cell.ts';

/** A combination of level and slope: factors of both. */
export type LinePart = readonly [level: number, slope: number];

/** A straight line of heights against ln Re - middle. */
export interface LineFit {
  readonly level: number;
  readonly slope: number;
  readonly benchDeviation: number;
  readonly deviation: number;
  /** Degrees of freedom of the two deviations. */
  readonly benchFreedom: number;
  readonly freedom: number;
  /**
   * How far each height lies from what all others let expect, in standard deviations of that (Cook & Weisberg, Residuals
   * and Influence in Regression, 1982, 2.2, for correlated errors).
   */
  readonly departures: Float64Array;
  /** Variance of a combination: from what is known, from the benches, and from the departures of conditions. */
  readonly variancesOf: (of: LinePart) => {
    readonly known: number;
    readonly bench: number;
    readonly residual: number;
  };
}

/** Deviations of logarithms are sought between these; at the lower one they are none. */
const least = Math.log(1e-4);
const most = Math.log(1);
/** Of ln of a deviation. */
const fine = 0.02;
/** With the slope from before, the covariances are made anew so often. */
const rounds = 3;

/**
 * Fits a line by generalized least squares, its two unknown deviations by restricted maximum likelihood (Patterson &
 * Thompson, Biometrika 58 (1971) 545).
 *
 * @param middle of ln Re
 * @returns null where the equations have no solution
 */
export function restrictedFit(cells: readonly CorrelationCell[], middle: number): LineFit | null {
  const problem = problemOf(cells, middle);
  let slope = 0.5;
  let logs = { bench: problem.benches > 1 ? -3 : Number.NEGATIVE_INFINITY, own: -3 };
  let solved: Solved | null = null;
  for (let round = 0; round < rounds; round += 1) {
    const known = knownCovariance(cells, slope);
    logs = maximize(problem, known, logs);
    solved = solve(problem, known, variancesOf(logs));
    if (solved === null) return null;
    slope = solved.slope;
  }
  if (solved === null) return null;
  const { weights } = solved;
  const known = knownCovariance(cells, slope);
  const variances = variancesOf(logs);
  const n = cells.length;
  return {
    level: solved.level,
    slope: solved.slope,
    benchDeviation: Math.sqrt(variances.bench),
    deviation: Math.sqrt(variances.own),
    benchFreedom: Math.max(1, problem.benches - 1),
    freedom: Math.max(1, n - 2 - (problem.benches - 1)),
    departures: solved.departures(),
    variancesOf: ([level, along]) => {
      const w = Float64Array.from({ length: n }, (_, i) => {
        return level * (weights.level[i] ?? 0) + along * (weights.slope[i] ?? 0);
      });
      const sums = new Float64Array(problem.benches);
      let squares = 0;
      let fromKnown = 0;
      for (let i = 0; i < n; i += 1) {
        const own = w[i] ?? 0;
        squares += own * own;
        const bench = problem.benchOf[i] ?? 0;
        sums[bench] = (sums[bench] ?? 0) + own;
        for (let j = 0; j < n; j += 1) fromKnown += own * (w[j] ?? 0) * (known[i * n + j] ?? 0);
      }
      return {
        known: Math.max(0, fromKnown),
        bench: variances.bench * sums.reduce((sum, one) => sum + one * one, 0),
        residual: variances.own * squares,
      };
    },
  };
}

interface Problem {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Number of the bench of each cell. */
  readonly benchOf: Int32Array;
  readonly benches: number;
}

function problemOf(cells: readonly CorrelationCell[], middle: number): Problem {
  const numbers = new Map<string | null, number>();
  for (const { bench } of cells) if (!numbers.has(bench)) numbers.set(bench, numbers.size);
  return {
    x: Float64Array.from(cells, ({ reynolds }) => Math.log(reynolds) - middle),
    y: Float64Array.from(cells, ({ height }) => height),
    benchOf: Int32Array.from(cells, ({ bench }) => numbers.get(bench) ?? 0),
    benches: numbers.size,
  };
}

/** Covariance of the heights about a line of a slope, from what is known: shared causes, and each cell's own. */
function knownCovariance(cells: readonly CorrelationCell[], slope: number): Float64Array {
  const n = cells.length;
  const matrix = new Float64Array(n * n);
  const moved = cells.map(({ effects }) => {
    const sums = new Map<string, number>();
    for (const { cause, reynolds, nusselt } of effects) {
      sums.set(cause, (sums.get(cause) ?? 0) + nusselt - slope * reynolds);
    }
    return sums;
  });
  cells.forEach(({ own }, i) => {
    for (let j = 0; j <= i; j += 1) {
      let sum = i === j ? own * own : 0;
      const other = moved[j];
      for (const [cause, effect] of moved[i] ?? []) sum += effect * (other?.get(cause) ?? 0);
      matrix[i * n + j] = sum;
      matrix[j * n + i] = sum;
    }
  });
  return matrix;
}

interface Deviations {
  /** ln of the standard deviations. */
  readonly bench: number;
  readonly own: number;
}

function variancesOf({ bench, own }: Deviations): Deviations {
  const variance = (log: number) => (log <= least ? 0 : Math.exp(2 * log));
  // Some departure there always is: with none at all, cells whose causes are alike could not be told apart.
  return { bench: variance(bench), own: Math.max(variance(own), Math.exp(2 * least)) };
}

interface Solved {
  readonly level: number;
  readonly slope: number;
  readonly likelihood: number;
  /** What each height counts in level and slope. */
  readonly weights: { readonly level: Float64Array; readonly slope: Float64Array };
  readonly departures: () => Float64Array;
}

function solve({ x, y, benchOf }: Problem, known: Float64Array, variances: Deviations): Solved | null {
  const n = x.length;
  const factor = Float64Array.from(known);
  for (let i = 0; i < n; i += 1) {
    for (let j = 0; j < n; j += 1) {
      if (benchOf[i] === benchOf[j]) factor[i * n + j] = (factor[i * n + j] ?? 0) + variances.bench;
    }
    factor[i * n + i] = (factor[i * n + i] ?? 0) + variances.own;
  }
  if (!choleskyFactor(factor, n)) return null;
  const ones = new Float64Array(n).fill(1);
  const along = Float64Array.from(x);
  choleskySolve(factor, n, ones);
  choleskySolve(factor, n, along);
  const a = sumOf(ones);
  const b = dot(ones, x);
  const c = dot(along, x);
  const determinant = a * c - b * b;
  if (!(determinant > 0)) return null;
  const level = Float64Array.from(ones, (one, i) => (c * one - b * (along[i] ?? 0)) / determinant);
  const slope = Float64Array.from(ones, (one, i) => (a * (along[i] ?? 0) - b * one) / determinant);
  const found = { level: dot(level, y), slope: dot(slope, y) };
  const left = Float64Array.from(y, (value, i) => value - found.level - found.slope * (x[i] ?? 0));
  const solved = Float64Array.from(left);
  choleskySolve(factor, n, solved);
  let lnDeterminant = Math.log(determinant);
  for (let i = 0; i < n; i += 1) lnDeterminant += 2 * Math.log(factor[i * n + i] ?? 1);
  return {
    ...found,
    weights: { level, slope },
    likelihood: -0.5 * (lnDeterminant + dot(left, solved)),
    // Costs as much as the whole solution, and is asked for once.
    departures: () =>
      Float64Array.from(solved, (value, i) => {
        const column = new Float64Array(n);
        column[i] = 1;
        choleskySolve(factor, n, column);
        const used = (level[i] ?? 0) * (ones[i] ?? 0) + (slope[i] ?? 0) * (along[i] ?? 0);
        return value / Math.sqrt(Math.max((column[i] ?? 0) - used, Number.MIN_VALUE));
      }),
  };
}

/** The deviations that make the results most likely, one after the other, each by golden section. */
function maximize(problem: Problem, known: Float64Array, from: Deviations): Deviations {
  const value = (at: Deviations) =>
    solve(problem, known, variancesOf(at))?.likelihood ?? Number.NEGATIVE_INFINITY;
  let best = from;
  for (let round = 0; round < 4; round += 1) {
    const before = best;
    best = { ...best, own: goldenTop((own) => value({ ...best, own })) };
    if (problem.benches > 1) best = { ...best, bench: goldenTop((bench) => value({ ...best, bench })) };
    if (Math.abs(best.own - before.own) + Math.abs(best.bench - before.bench) < 2 * fine) break;
  }
  return best;
}

function goldenTop(of: (log: number) => number): number {
  const share = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [least - 1, most];
  let [a, b] = [high - share * (high - low), low + share * (high - low)];
  let [atA, atB] = [of(a), of(b)];
  while (high - low > fine) {
    if (atA >= atB) {
      [high, b, atB] = [b, a, atA];
      a = high - share * (high - low);
      atA = of(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + share * (high - low);
      atB = of(b);
    }
  }
  return (low + high) / 2;
}

function sumOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}
