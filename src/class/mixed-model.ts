import { choleskyFactor, choleskySolve } from '../statistics/index.ts';
import type { Design } from './mixed-design.ts';

const ln2pi = Math.log(2 * Math.PI);

/** What the equations say at given ratios of variances. */
interface Likely {
  readonly mean: number;
  /** 1ᵀV⁻¹1, with V over the residual variance. */
  readonly information: number;
  readonly lnDeterminant: number;
  readonly residualVariance: number;
}

/** The same with what the levels come to. */
interface Solved extends Likely {
  /** Best linear unbiased predictions of the levels, by factor and level. */
  readonly effects: number[][];
}

/** The equations without the factor that stands apart, at one ratio of it: what all solutions at that ratio begin with. */
interface Reduced {
  readonly ratio: number;
  /** Z'Z below the diagonal less what the factor apart explains. */
  readonly below: Float64Array;
  /** Of each column, what is to be taken from its diagonal. */
  readonly taken: readonly Float64Array[];
  readonly ones: Float64Array;
  readonly sums: Float64Array;
  readonly oneOne: number;
  readonly oneSum: number;
  readonly sumSum: number;
  /** ln of the diagonal of each level of the factor apart. */
  readonly logs: Float64Array;
}

/**
 * Henderson's mixed-model equations: with V = I + Z G Z', the matrix Z'Z + G⁻¹ gives ln|V| and V⁻¹ (Woodbury); the
 * residual variance and the mean then follow. A search asks thousands of times, and for long at one ratio of the factor
 * that stands apart or of others, so what hangs on one ratio alone is remembered, and the arrays are used again.
 */
export class MixedModel {
  readonly design: Design;
  #reduced: Reduced | null = null;
  /** Columns of factors that are not left out, of which the first `#size` count. */
  readonly #kept: Int32Array;
  #size = 0;
  /** Of each column: the ratio at which its diagonal was worked out, and what that came to. */
  readonly #ratioAt: Float64Array;
  readonly #diagonal: Float64Array;
  readonly #matrix: Float64Array;
  readonly #ones: Float64Array;
  readonly #sums: Float64Array;
  readonly #solvedOnes: Float64Array;
  readonly #solvedSums: Float64Array;

  constructor(design: Design) {
    const q = design.owner.length;
    this.design = design;
    this.#kept = new Int32Array(q);
    this.#ratioAt = new Float64Array(q);
    this.#diagonal = new Float64Array(q);
    this.#matrix = new Float64Array(q * q);
    this.#ones = new Float64Array(q);
    this.#sums = new Float64Array(q);
    this.#solvedOnes = new Float64Array(q);
    this.#solvedSums = new Float64Array(q);
  }

  /** Restricted log-likelihood at its best residual variance; −∞ where the equations cannot be solved. */
  restrictedLogLikelihood(ratios: readonly number[]): number {
    const likely = this.#likely(ratios);
    if (likely === null) return Number.NEGATIVE_INFINITY;
    const freedom = this.design.results - 1;
    const { residualVariance, lnDeterminant, information } = likely;
    return (
      -0.5 * (freedom * (Math.log(residualVariance) + 1 + ln2pi) + lnDeterminant + Math.log(information))
    );
  }

  /**
   * The equations solved at given ratios of variances to the residual's.
   *
   * @param ratios of each factor, ≥ 0; a factor of 0 is left out of the equations
   * @returns null where the equations cannot be solved
   */
  solve(ratios: readonly number[]): Solved | null {
    const likely = this.#likely(ratios);
    if (likely === null) return null;
    const small = new Float64Array(this.design.owner.length);
    for (let i = 0; i < this.#size; i++) {
      const effect = (this.#solvedSums[i] ?? 0) - likely.mean * (this.#solvedOnes[i] ?? 0);
      small[this.#kept[i] ?? 0] = effect;
    }
    const ratio = ratios[this.design.apart] ?? 0;
    return { ...likely, effects: effectsOf(this.design, ratio, likely.mean, small) };
  }

  #likely(ratios: readonly number[]): Likely | null {
    const reduced = this.#reducedAt(ratios[this.design.apart] ?? 0);
    const lnRatios = this.#fill(ratios, reduced);
    const [q, matrix, ones, sums] = [this.#size, this.#matrix, this.#ones, this.#sums];
    if (q > 0 && !choleskyFactor(matrix, q)) return null;
    let lnDeterminant = lnRatios;
    for (let i = 0; i < q; i++) lnDeterminant += 2 * Math.log(matrix[i * q + i] ?? 1);
    this.#solvedOnes.set(ones);
    this.#solvedSums.set(sums);
    choleskySolve(matrix, q, this.#solvedOnes);
    choleskySolve(matrix, q, this.#solvedSums);
    const { results: n, total, squares } = this.design;
    const information = n - reduced.oneOne - dot(q, ones, this.#solvedOnes);
    const projected = total - reduced.oneSum - dot(q, ones, this.#solvedSums);
    const mean = projected / information;
    const quadratic = squares - reduced.sumSum - dot(q, sums, this.#solvedSums) - projected * mean;
    const residualVariance = Math.max(quadratic, Number.MIN_VALUE) / (n - 1);
    return { mean, information, lnDeterminant, residualVariance };
  }

  #reducedAt(ratio: number): Reduced {
    if (this.#reduced?.ratio === ratio) return this.#reduced;
    this.#reduced = reducedBy(this.design, ratio);
    this.#ratioAt.fill(Number.NaN);
    return this.#reduced;
  }

  /** Puts the equations together. @returns ln of the ratios and of the diagonal of the factor apart, summed up */
  #fill(ratios: readonly number[], reduced: Reduced): number {
    const { owner } = this.design;
    const all = owner.length;
    const logs = ratios.map(Math.log);
    let q = 0;
    let lnRatios = 0;
    for (let column = 0; column < all; column++) {
      const factor = owner[column] ?? 0;
      if (!((ratios[factor] ?? 0) > 0)) continue;
      this.#kept[q] = column;
      q += 1;
      lnRatios += logs[factor] ?? 0;
    }
    this.#size = q;
    for (let i = 0; i < q; i++) {
      const column = this.#kept[i] ?? 0;
      this.#ones[i] = reduced.ones[column] ?? 0;
      this.#sums[i] = reduced.sums[column] ?? 0;
      const from = column * all;
      for (let k = 0; k < i; k++) this.#matrix[i * q + k] = reduced.below[from + (this.#kept[k] ?? 0)] ?? 0;
      this.#matrix[i * q + i] = this.#diagonalOf(column, ratios[owner[column] ?? 0] ?? 1, reduced);
    }
    for (const log of reduced.logs) lnRatios += log;
    return lnRatios;
  }

  #diagonalOf(column: number, ratio: number, { taken }: Reduced): number {
    if (this.#ratioAt[column] === ratio) return this.#diagonal[column] ?? 0;
    let diagonal = (this.design.counts[column] ?? 0) + 1 / ratio;
    for (const term of taken[column] ?? []) diagonal -= term;
    this.#ratioAt[column] = ratio;
    this.#diagonal[column] = diagonal;
    return diagonal;
  }
}

/** @param ratio of the factor apart, ≥ 0; with 0 nothing is taken from the equations */
function reducedBy(design: Design, ratio: number): Reduced {
  const { big, counts, sums: levelSums, products } = design;
  const q = counts.length;
  const below = Float64Array.from(products);
  const meetings = new Int32Array(q);
  for (const { columns } of big) for (const a of columns) meetings[a] = (meetings[a] ?? 0) + 1;
  const taken = Array.from(meetings, (times) => new Float64Array(times));
  meetings.fill(0);
  const ones = Float64Array.from(counts);
  const sums = Float64Array.from(levelSums);
  const logs: number[] = [];
  let [oneOne, oneSum, sumSum] = [0, 0, 0];
  for (const { count, sum, columns, times } of ratio > 0 ? big : []) {
    const diagonal = count + 1 / ratio;
    logs.push(Math.log(diagonal * ratio));
    oneOne += count ** 2 / diagonal;
    oneSum += (count * sum) / diagonal;
    sumSum += sum ** 2 / diagonal;
    for (let i = 0; i < columns.length; i++) {
      const a = columns[i] ?? 0;
      const met = times[i] ?? 0;
      const at = meetings[a] ?? 0;
      ones[a] = (ones[a] ?? 0) - (met * count) / diagonal;
      sums[a] = (sums[a] ?? 0) - (met * sum) / diagonal;
      const own = taken[a];
      if (own !== undefined) own[at] = (met * met) / diagonal;
      meetings[a] = at + 1;
      for (let k = 0; k < columns.length; k++) {
        const b = columns[k] ?? 0;
        if (b < a) below[a * q + b] = (below[a * q + b] ?? 0) - (met * (times[k] ?? 0)) / diagonal;
      }
    }
  }
  return {
    ratio,
    below,
    taken: ratio > 0 ? taken : taken.map(() => new Float64Array(0)),
    ones,
    sums,
    oneOne,
    oneSum,
    sumSum,
    logs: Float64Array.from(logs),
  };
}

/**
 * The levels' effects, by factor and level.
 *
 * @param small those of the columns, 0 where a factor is left out
 */
function effectsOf({ factors, apart, owner, big }: Design, ratio: number, mean: number, small: Float64Array) {
  return factors.map(({ levels }, f) => {
    if (f !== apart) {
      const from = owner.indexOf(f);
      return levels.map((_, i) => small[from + i] ?? 0);
    }
    if (!(ratio > 0)) return levels.map(() => 0);
    return big.map(({ count, sum, columns, times }) => {
      const others = columns.reduce((s, a, i) => s + (times[i] ?? 0) * (small[a] ?? 0), 0);
      return (sum - mean * count - others) / (count + 1 / ratio);
    });
  });
}

/** Of the first `n` numbers. */
function dot(n: number, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}
