import { choleskyFactor, choleskySolve } from '../statistics/index.ts';

/** A result and where it comes from: the level of each factor by its name, as `bench` → `bench-2`. */
export interface FactoredResult {
  readonly value: number;
  readonly levels: Readonly<Record<string, string>>;
}

/**
 * Results with crossed or nested factors as the mixed-model equations need them: sums over the levels in place of the
 * results. The factor with most levels stands apart, for its part of the equations is diagonal and is solved at once.
 */
export interface Design {
  readonly factors: readonly { readonly name: string; readonly levels: readonly string[] }[];
  /** Number of the factor that stands apart; −1 where there is none. */
  readonly apart: number;
  readonly results: number;
  readonly total: number;
  readonly squares: number;
  /** Of each level of the factor apart: how many results, their sum, and how often each other column meets it. */
  readonly big: readonly Level[];
  /** Columns of the other factors: to which factor they belong, how many results, their sum, and Z'Z. */
  readonly owner: Int32Array;
  readonly counts: Float64Array;
  readonly sums: Float64Array;
  readonly products: Float64Array;
}

interface Level {
  readonly count: number;
  readonly sum: number;
  readonly beside: readonly (readonly [column: number, count: number])[];
}

/** @param results values about their own mean: nothing is lost to cancellation then */
export function designOf(results: readonly FactoredResult[], names: readonly string[]): Design {
  const levels = names.map((name) => [...new Set(results.map(({ levels: of }) => of[name] ?? ''))]);
  const apart = levels.reduce((best, own, i) => (own.length > (levels[best]?.length ?? 0) ? i : best), -1);
  const first = new Map<number, number>();
  let q = 0;
  levels.forEach((own, f) => {
    if (f === apart) return;
    first.set(f, q);
    q += own.length;
  });
  const owner = new Int32Array(q);
  for (const [f, from] of first) owner.fill(f, from, from + (levels[f]?.length ?? 0));
  const numbers = levels.map((own) => new Map(own.map((level, i) => [level, i])));
  const counts = new Float64Array(q);
  const sums = new Float64Array(q);
  const products = new Float64Array(q * q);
  const big = (levels[apart] ?? []).map(() => ({ count: 0, sum: 0, beside: new Map<number, number>() }));
  let [total, squares] = [0, 0];
  for (const { value, levels: of } of results) {
    total += value;
    squares += value * value;
    const columns = [...first].map(([f, from]) => from + (numbers[f]?.get(of[names[f] ?? ''] ?? '') ?? 0));
    for (const a of columns) {
      counts[a] = (counts[a] ?? 0) + 1;
      sums[a] = (sums[a] ?? 0) + value;
      for (const b of columns) products[a * q + b] = (products[a * q + b] ?? 0) + 1;
    }
    const own = big[numbers[apart]?.get(of[names[apart] ?? ''] ?? '') ?? -1];
    if (own === undefined) continue;
    own.count += 1;
    own.sum += value;
    for (const a of columns) own.beside.set(a, (own.beside.get(a) ?? 0) + 1);
  }
  return {
    factors: names.map((name, f) => ({ name, levels: levels[f] ?? [] })),
    apart,
    results: results.length,
    total,
    squares,
    big: big.map(({ beside, ...rest }) => ({ ...rest, beside: [...beside] })),
    owner,
    counts,
    sums,
    products,
  };
}

/** The equations solved at given ratios of variances. */
interface Solved {
  readonly mean: number;
  /** 1ᵀV⁻¹1, with V over the residual variance. */
  readonly information: number;
  readonly lnDeterminant: number;
  readonly residualVariance: number;
  /** Best linear unbiased predictions of the levels, by factor and level. */
  readonly effects: () => number[][];
}

/**
 * Henderson's mixed-model equations at given ratios of variances to the residual's: with V = I + Z G Z', the matrix
 * Z'Z + G⁻¹ gives ln|V| and V⁻¹ (Woodbury); the residual variance and the mean then follow.
 *
 * @param ratios of each factor, ≥ 0; a factor of 0 is left out of the equations
 * @returns null where the equations cannot be solved
 */
export function solve(design: Design, ratios: readonly number[]): Solved | null {
  const { big, owner, apart } = design;
  const kept = Array.from(owner.keys()).filter((column) => (ratios[owner[column] ?? 0] ?? 0) > 0);
  const place = new Int32Array(owner.length).fill(-1);
  kept.forEach((column, i) => {
    place[column] = i;
  });
  const q = kept.length;
  const matrix = new Float64Array(q * q);
  const ones = new Float64Array(q);
  const sums = new Float64Array(q);
  let lnDeterminant = 0;
  kept.forEach((column, i) => {
    const ratio = ratios[owner[column] ?? 0] ?? 1;
    lnDeterminant += Math.log(ratio);
    ones[i] = design.counts[column] ?? 0;
    sums[i] = design.sums[column] ?? 0;
    kept.forEach((other, k) => {
      matrix[i * q + k] = design.products[column * owner.length + other] ?? 0;
    });
    matrix[i * q + i] = (matrix[i * q + i] ?? 0) + 1 / ratio;
  });
  let [oneOne, oneSum, sumSum] = [0, 0, 0];
  const bigRatio = ratios[apart] ?? 0;
  if (bigRatio > 0) {
    for (const { count, sum, beside } of big) {
      const diagonal = count + 1 / bigRatio;
      lnDeterminant += Math.log(diagonal * bigRatio);
      oneOne += count ** 2 / diagonal;
      oneSum += (count * sum) / diagonal;
      sumSum += sum ** 2 / diagonal;
      for (const [a, times] of beside) {
        const row = place[a] ?? -1;
        if (row < 0) continue;
        ones[row] = (ones[row] ?? 0) - (times * count) / diagonal;
        sums[row] = (sums[row] ?? 0) - (times * sum) / diagonal;
        for (const [b, others] of beside) {
          const column = place[b] ?? -1;
          if (column >= 0)
            matrix[row * q + column] = (matrix[row * q + column] ?? 0) - (times * others) / diagonal;
        }
      }
    }
  }
  if (q > 0 && !choleskyFactor(matrix, q)) return null;
  for (let i = 0; i < q; i++) lnDeterminant += 2 * Math.log(matrix[i * q + i] ?? 1);
  const solvedOnes = Float64Array.from(ones);
  const solvedSums = Float64Array.from(sums);
  choleskySolve(matrix, q, solvedOnes);
  choleskySolve(matrix, q, solvedSums);
  const { results: n, total, squares } = design;
  const information = n - oneOne - dot(ones, solvedOnes);
  const projected = total - oneSum - dot(ones, solvedSums);
  const mean = projected / information;
  const quadratic = squares - sumSum - dot(sums, solvedSums) - projected * mean;
  return {
    mean,
    information,
    lnDeterminant,
    residualVariance: Math.max(quadratic, Number.MIN_VALUE) / (n - 1),
    effects: () => {
      const small = kept.map((_, i) => (solvedSums[i] ?? 0) - mean * (solvedOnes[i] ?? 0));
      return design.factors.map(({ levels }, f) => {
        if (f !== apart) {
          const from = owner.indexOf(f);
          return levels.map((_, i) => small[place[from + i] ?? -1] ?? 0);
        }
        if (!(bigRatio > 0)) return levels.map(() => 0);
        return big.map(({ count, sum, beside }) => {
          const others = beside.reduce((s, [a, times]) => s + times * (small[place[a] ?? -1] ?? 0), 0);
          return (sum - mean * count - others) / (count + 1 / bigRatio);
        });
      });
    },
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

const ln2pi = Math.log(2 * Math.PI);

/** Restricted log-likelihood at its best residual variance; −∞ where the equations cannot be solved. */
export function restrictedLogLikelihood(design: Design, ratios: readonly number[]): number {
  const solved = solve(design, ratios);
  if (solved === null) return Number.NEGATIVE_INFINITY;
  const freedom = design.results - 1;
  const { residualVariance, lnDeterminant, information } = solved;
  return -0.5 * (freedom * (Math.log(residualVariance) + 1 + ln2pi) + lnDeterminant + Math.log(information));
}
