import { choleskyFactor, choleskySolve } from '../statistics/index.ts';

/** A result and where it comes from: the level of each factor by its name, as `bench` → `bench-2`. */
export interface FactoredResult {
  readonly value: number;
  readonly levels: Readonly<Record<string, string>>;
}

/** How much of the spread belongs to each factor. */
export interface VarianceComponents {
  /** Standard deviations, in the unit of the results; the factors in the order asked for. */
  readonly factors: readonly {
    readonly factor: string;
    readonly deviation: number;
    readonly levels: number;
    /** Share of the whole variance, 0 to 1. */
    readonly share: number;
    /** Twice the fall of the restricted log-likelihood without this factor. */
    readonly evidence: number;
  }[];
  /** Of repeats alike in all factors. */
  readonly residual: number;
  readonly mean: number;
  /** Of `mean`. */
  readonly standardUncertainty: number;
  readonly results: number;
}

/** Levels of factors by number, and what the likelihood needs of them. */
interface Design {
  readonly values: Float64Array;
  /** For each result the column of its level in each factor. */
  readonly columns: readonly (readonly number[])[];
  /** To which factor a column belongs. */
  readonly owner: Int32Array;
  readonly factors: readonly { readonly name: string; readonly levels: number }[];
}

const ln2pi = Math.log(2 * Math.PI);

/**
 * Standard deviations of crossed or nested random effects by restricted maximum likelihood (Patterson & Thompson,
 * Biometrika 58 (1971) 545), by Henderson's equations of the effects, so that the cost goes with the number of levels
 * and not of results. A nested factor has names that hold the outer one's, as `A/A1`. With equal numbers the values are
 * those of the analysis of variance, as long as none is negative there.
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
  const design = designOf(results, told);
  const best = maximize(design);
  if (best === null) return null;
  const solved = solve(design, best.ratios);
  if (solved === null) return null;
  const residual = Math.sqrt(solved.residualVariance);
  const variances = best.ratios.map((ratio) => ratio * solved.residualVariance);
  const whole = variances.reduce((sum, v) => sum + v, 0) + solved.residualVariance;
  return {
    factors: told.map((factor, i) => {
      const without = maximize(design, i);
      return {
        factor,
        deviation: Math.sqrt(variances[i] ?? 0),
        levels: design.factors[i]?.levels ?? 0,
        share: whole > 0 ? (variances[i] ?? 0) / whole : 0,
        evidence: without === null ? 0 : Math.max(0, 2 * (best.likelihood - without.likelihood)),
      };
    }),
    residual,
    mean: solved.mean,
    standardUncertainty: Math.sqrt(solved.residualVariance / solved.information),
    results: results.length,
  };
}

function designOf(results: readonly FactoredResult[], factors: readonly string[]): Design {
  const numbers = factors.map(() => new Map<string, number>());
  const owner: number[] = [];
  const columns = results.map(({ levels }) =>
    factors.map((factor, f) => {
      const known = numbers[f] ?? new Map<string, number>();
      const name = levels[factor] ?? '';
      const before = known.get(name);
      if (before !== undefined) return before;
      known.set(name, owner.length);
      owner.push(f);
      return owner.length - 1;
    }),
  );
  return {
    values: Float64Array.from(results, ({ value }) => value),
    columns,
    owner: Int32Array.from(owner),
    factors: factors.map((name, f) => ({ name, levels: numbers[f]?.size ?? 0 })),
  };
}

/**
 * The mixed-model equations at given ratios of variances to the residual's: with V = I + Z G Z', the matrix
 * Z'Z + G⁻¹ gives ln|V| and V⁻¹ (Woodbury), the residual variance and the mean then follow.
 *
 * @param ratios of each factor, ≥ 0; a factor of 0 is left out of the equations
 */
function solve({ values, columns, owner }: Design, ratios: readonly number[]) {
  const n = values.length;
  const position = new Int32Array(owner.length).fill(-1);
  let q = 0;
  for (let column = 0; column < owner.length; column++) {
    if ((ratios[owner[column] ?? 0] ?? 0) > 0) position[column] = q++;
  }
  const matrix = new Float64Array(q * q);
  const ones = new Float64Array(q);
  const sums = new Float64Array(q);
  let lnRatios = 0;
  for (let column = 0; column < owner.length; column++) {
    const at = position[column] ?? -1;
    const ratio = ratios[owner[column] ?? 0] ?? 0;
    if (at < 0) continue;
    matrix[at * q + at] = 1 / ratio;
    lnRatios += Math.log(ratio);
  }
  columns.forEach((own, i) => {
    for (const a of own) {
      const row = position[a] ?? -1;
      if (row < 0) continue;
      ones[row] = (ones[row] ?? 0) + 1;
      sums[row] = (sums[row] ?? 0) + (values[i] ?? 0);
      for (const b of own) {
        const column = position[b] ?? -1;
        if (column >= 0) matrix[row * q + column] = (matrix[row * q + column] ?? 0) + 1;
      }
    }
  });
  if (q > 0 && !choleskyFactor(matrix, q)) return null;
  let lnDeterminant = lnRatios;
  for (let i = 0; i < q; i++) lnDeterminant += 2 * Math.log(matrix[i * q + i] ?? 1);
  const solvedOnes = Float64Array.from(ones);
  const solvedSums = Float64Array.from(sums);
  if (q > 0) {
    choleskySolve(matrix, q, solvedOnes);
    choleskySolve(matrix, q, solvedSums);
  }
  const total = values.reduce((sum, x) => sum + x, 0);
  const squares = values.reduce((sum, x) => sum + x * x, 0);
  const information = n - dot(ones, solvedOnes);
  const projected = total - dot(ones, solvedSums);
  const mean = projected / information;
  const quadratic = squares - dot(sums, solvedSums) - projected * mean;
  return {
    mean,
    information,
    lnDeterminant,
    residualVariance: Math.max(quadratic, Number.MIN_VALUE) / (n - 1),
  };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

function likelihood(design: Design, ratios: readonly number[]): number {
  const solved = solve(design, ratios);
  if (solved === null) return Number.NEGATIVE_INFINITY;
  const freedom = design.values.length - 1;
  return (
    -0.5 *
    (freedom * (Math.log(solved.residualVariance) + 1 + ln2pi) +
      solved.lnDeterminant +
      Math.log(solved.information))
  );
}

/** ln of a ratio is sought between these; below the lowest a factor is left out. */
const lowest = -12;
const highest = 12;

/**
 * Finds the ratios one after the other, again and again, each by golden section: few factors, and a likelihood with one
 * top along each.
 *
 * @param without number of a factor that is held at 0
 */
function maximize(design: Design, without: number | null = null) {
  // Values are centred, so that nothing is lost to cancellation.
  const centre = design.values.reduce((sum, x) => sum + x, 0) / design.values.length;
  const centred = { ...design, values: design.values.map((x) => x - centre) };
  if (centred.values.every((x) => x === 0)) return null;
  const logs = design.factors.map((_, f) => (f === without ? Number.NEGATIVE_INFINITY : -1));
  const ratiosOf = (at: readonly number[]) => at.map((x) => (x <= lowest ? 0 : Math.exp(x)));
  let best = likelihood(centred, ratiosOf(logs));
  for (let round = 0; round < 60; round++) {
    const before = best;
    for (let f = 0; f < logs.length; f++) {
      if (f === without) continue;
      const along = (x: number) => likelihood(centred, ratiosOf(logs.map((own, i) => (i === f ? x : own))));
      const found = goldenTop(along, lowest - 1, highest);
      if (found.value >= best) {
        logs[f] = found.at;
        best = found.value;
      }
    }
    if (best - before < 1e-9) break;
  }
  return { ratios: ratiosOf(logs), likelihood: best };
}

function goldenTop(of: (x: number) => number, from: number, to: number): { at: number; value: number } {
  const part = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  let [a, b] = [high - part * (high - low), low + part * (high - low)];
  let [atA, atB] = [of(a), of(b)];
  while (high - low > 1e-7) {
    if (atA >= atB) {
      [high, b, atB] = [b, a, atA];
      a = high - part * (high - low);
      atA = of(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + part * (high - low);
      atB = of(b);
    }
  }
  const edge = of(from);
  return edge >= Math.max(atA, atB)
    ? { at: from, value: edge }
    : { at: (low + high) / 2, value: of((low + high) / 2) };
}
