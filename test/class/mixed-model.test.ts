import { describe, expect, test } from 'vitest';
import { designOf } from '../../src/class/mixed-design.ts';
import { MixedModel } from '../../src/class/mixed-model.ts';
import { seededRandom } from '../../src/practice/random.ts';

const names = ['group', 'bench', 'body'];

function someResults(seed: number, count: number) {
  const random = seededRandom(seed);
  return Array.from({ length: count }, (_, i) => ({
    value: random.normal(),
    levels: { group: `G${i % 9}`, bench: `B${Math.floor(random.uniform() * 4)}`, body: `S${i % 3}` },
  }));
}

/**
 * The restricted log-likelihood by its definition, with the covariance of all results written out: Patterson & Thompson,
 * Biometrika 58 (1971) 545; for a model with one mean, at the residual variance that makes it largest.
 */
function byDefinition(results: ReturnType<typeof someResults>, ratios: readonly number[]): number {
  const n = results.length;
  const covariance = results.map((a, i) =>
    results.map((b, j) => {
      const shared = names.map((name, f) =>
        Reflect.get(a.levels, name) === Reflect.get(b.levels, name) ? (ratios[f] ?? 0) : 0,
      );
      return shared.reduce((sum, x) => sum + x, i === j ? 1 : 0);
    }),
  );
  const { lnDeterminant, solved } = eliminated(covariance, [
    results.map(() => 1),
    results.map(({ value }) => value),
  ]);
  const [ones = [], values = []] = solved;
  const sum = (of: (i: number) => number) => results.reduce((total, _, i) => total + of(i), 0);
  const information = sum((i) => ones[i] ?? 0);
  const mean = sum((i) => values[i] ?? 0) / information;
  const quadratic = sum(
    (i) => ((results[i]?.value ?? 0) - mean) * ((values[i] ?? 0) - mean * (ones[i] ?? 0)),
  );
  const variance = quadratic / (n - 1);
  return (
    -0.5 *
    ((n - 1) * (Math.log(variance) + 1 + Math.log(2 * Math.PI)) + lnDeterminant + Math.log(information))
  );
}

/** Gauss's elimination with the columns on the right beside the matrix. */
function eliminated(matrix: readonly number[][], columns: readonly number[][]) {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...columns.map((column) => column[i] ?? 0)]);
  let lnDeterminant = 0;
  for (let k = 0; k < n; k++) {
    const pivot = rows[k]?.[k] ?? Number.NaN;
    lnDeterminant += Math.log(pivot);
    const top = rows[k]?.map((x) => x / pivot) ?? [];
    rows[k] = top;
    for (let i = 0; i < n; i++) {
      const times = rows[i]?.[k] ?? 0;
      if (i !== k) rows[i] = rows[i]?.map((x, j) => x - times * (top[j] ?? 0)) ?? [];
    }
  }
  return { lnDeterminant, solved: columns.map((_, c) => rows.map((row) => row[n + c] ?? Number.NaN)) };
}

describe('the mixed-model equations', () => {
  const results = someResults(5, 60);
  const asked = [
    [0.4, 0.2, 0.1],
    // One factor moves on while the others stay, as in a search, and back again.
    [0.4, 0.7, 0.1],
    [0.4, 0, 0.1],
    [0, 0.7, 2],
    [0, 0, 0],
    [30, 0.7, 1e-4],
    [0.4, 0.2, 0.1],
  ];

  test('give the likelihood of its definition, whatever was asked before', () => {
    const model = new MixedModel(designOf(results, names));
    for (const ratios of asked) {
      expect(model.restrictedLogLikelihood(ratios)).toBeCloseTo(byDefinition(results, ratios), 9);
    }
  });

  test('say the same to a digit as equations that were never asked anything else', () => {
    const model = new MixedModel(designOf(results, names));
    for (const ratios of asked) {
      expect(model.solve(ratios)).toEqual(new MixedModel(designOf(results, names)).solve(ratios));
    }
  });
});
