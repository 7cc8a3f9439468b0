import type { Correlation, Input } from './uncertain.ts';

/** A square matrix by rows. */
export type Matrix = readonly (readonly number[])[];

/** How inputs vary together, checked. */
export interface CorrelationStructure {
  /** Places of the inputs that are correlated with another, in their order. */
  readonly correlated: readonly number[];
  /** Sets of places, each linked by correlations; every input is in one, alone or with others. */
  readonly groups: readonly (readonly number[])[];
  /** Each correlated pair once, with its coefficient. */
  readonly pairs: readonly { readonly places: readonly [number, number]; readonly coefficient: number }[];
}

/**
 * Finds the inputs that correlations speak of.
 *
 * @throws RangeError for a name that no input has, a pair that is named twice or with itself, a coefficient
 *   outside -1 to 1
 */
export function correlationStructure(
  inputs: readonly Input[],
  correlations: readonly Correlation[],
): CorrelationStructure {
  const placeOf = new Map(inputs.map((input, place) => [input.name, place]));
  const groupOf = inputs.map((_, place) => place);
  const seen = new Set<string>();
  const pairs = correlations.flatMap(({ between, coefficient }) => {
    const [first, second] = between;
    const a = knownPlace(placeOf, first);
    const b = knownPlace(placeOf, second);
    const shown = `The correlation of "${first}" with "${second}"`;
    if (a === b) throw new RangeError(`${shown} names one input twice: name two.`);
    if (!(coefficient >= -1 && coefficient <= 1)) {
      throw new RangeError(`${shown} is ${coefficient}: give a number from -1 to 1.`);
    }
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    if (seen.has(key)) throw new RangeError(`${shown} is there twice: give it once.`);
    seen.add(key);
    if (coefficient === 0) return [];
    const joined = groupOf[a];
    const absorbed = groupOf[b];
    for (const [place, group] of groupOf.entries()) {
      if (group === absorbed && joined !== undefined) groupOf[place] = joined;
    }
    return [{ places: a < b ? ([a, b] as const) : ([b, a] as const), coefficient }];
  });
  const members = new Map<number, number[]>();
  for (const [place, group] of groupOf.entries()) {
    const known = members.get(group);
    if (known === undefined) members.set(group, [place]);
    else known.push(place);
  }
  const groups = [...members.values()];
  const correlated = groups
    .filter((group) => group.length > 1)
    .flat()
    .sort((a, b) => a - b);
  return { correlated, groups, pairs };
}

function knownPlace(placeOf: ReadonlyMap<string, number>, name: string): number {
  const place = placeOf.get(name);
  if (place === undefined) {
    const known = [...placeOf.keys()].slice(0, 20).join(', ');
    throw new RangeError(`A correlation names "${name}", which is no input: name one of ${known}.`);
  }
  return place;
}

/**
 * Correlation matrix of some of the inputs.
 *
 * @param places of the inputs, in the order of the rows
 */
export function correlationMatrix(structure: CorrelationStructure, places: readonly number[]): Matrix {
  const rowOf = new Map(places.map((place, row) => [place, row]));
  const matrix = places.map((_, row) => places.map((__, column) => Number(row === column)));
  for (const { places: pair, coefficient } of structure.pairs) {
    const [row, column] = [rowOf.get(pair[0]), rowOf.get(pair[1])];
    if (row === undefined || column === undefined) continue;
    const [upper, lower] = [matrix[row], matrix[column]];
    if (upper !== undefined) upper[column] = coefficient;
    if (lower !== undefined) lower[row] = coefficient;
  }
  return matrix;
}

/** A pivot below this is rounding, not spread. */
const negligible = 1e-12;
/** What rounding may leave beside a pivot of 0. */
const tolerated = 1e-9;

/**
 * Lower triangle L with L Lᵀ = A for a correlation matrix, which may be singular: coefficients of ±1 are allowed.
 *
 * @throws RangeError if no quantities can be correlated like that
 */
export function choleskyFactor(matrix: Matrix): number[][] {
  const factor = matrix.map((row) => row.map(() => 0));
  for (const [i, row] of matrix.entries()) {
    const own = factor[i] ?? [];
    for (const [j, other] of factor.entries()) {
      if (j > i) break;
      let rest = row[j] ?? Number.NaN;
      for (let k = 0; k < j; k++) rest -= (own[k] ?? 0) * (other[k] ?? 0);
      const pivot = other[j] ?? 0;
      if (i !== j && pivot > 0) own[j] = rest / pivot;
      else if (i === j && rest > negligible) own[j] = Math.sqrt(rest);
      else if (!(Math.abs(rest) <= tolerated)) {
        throw new RangeError(
          'The correlations contradict each other (their matrix is not positive semidefinite): check their signs, and give them with more digits if they were rounded.',
        );
      }
    }
  }
  return factor;
}
