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
  /** Other columns that meet it, and how often each does. */
  readonly columns: Int32Array;
  readonly times: Float64Array;
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
    big: big.map(({ beside, ...rest }) => ({
      ...rest,
      columns: Int32Array.from(beside.keys()),
      times: Float64Array.from(beside.values()),
    })),
    owner,
    counts,
    sums,
    products,
  };
}
