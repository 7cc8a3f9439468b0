import jstat from 'jstat';

/** What a cell can hold; null where it is empty. */
export type CellValue = number | string | boolean | null;

/** What a function is given: a value or a range. */
export type Given = CellValue | CellValue[];

const sumOf = (numbers: readonly number[]) => numbers.reduce((sum, one) => sum + one, 0);
const meanOf = (numbers: readonly number[]) => sumOf(numbers) / numbers.length;

/** The numbers of a range; texts and empty cells are passed over. */
function numbersIn(given: Given | undefined): number[] {
  return (Array.isArray(given) ? given : [given]).filter((one) => typeof one === 'number');
}

/** Pairs of two ranges in which both are numbers, and what lines are made from. */
function pairsOf([ys, xs]: readonly Given[]) {
  if (!Array.isArray(ys) || !Array.isArray(xs)) throw new Error('two ranges are wanted');
  const pairs = ys.flatMap((y, i): [number, number][] => {
    const x = xs[i];
    return typeof y === 'number' && typeof x === 'number' ? [[x, y]] : [];
  });
  const [mx, my] = [meanOf(pairs.map(([x]) => x)), meanOf(pairs.map(([, y]) => y))];
  const sxx = sumOf(pairs.map(([x]) => (x - mx) ** 2));
  const sxy = sumOf(pairs.map(([x, y]) => (x - mx) * (y - my)));
  const syy = sumOf(pairs.map(([, y]) => (y - my) ** 2));
  return { n: pairs.length, mx, my, sxx, sxy, syy };
}

function only(given: Given | undefined): number {
  if (typeof given === 'number') return given;
  throw new Error(`${JSON.stringify(given)} is no number`);
}

function held(given: Given | undefined): CellValue {
  if (given === undefined || Array.isArray(given)) throw new Error('one value is wanted');
  return given;
}

/** Functions by their definitions in ECMA-376, part 1, 18.17.7 (AND, IF, COUNT, DEVSQ, INTERCEPT and the others). */
export const functions: Readonly<Record<string, (given: readonly Given[]) => CellValue>> = {
  AND: (given) => given.every((one) => one === true),
  IF: ([test, yes, no]) => held(test === true ? yes : no),
  LN: ([x]) => Math.log(only(x)),
  SQRT: ([x]) => Math.sqrt(only(x)),
  COUNT: ([range]) => numbersIn(range).length,
  SUMSQ: ([range]) => sumOf(numbersIn(range).map((x) => x * x)),
  // Texts count as zeros in a product.
  SUMPRODUCT: ([first, second]) => {
    if (!Array.isArray(first) || !Array.isArray(second)) throw new Error('two ranges are wanted');
    const number = (one: CellValue | undefined) => (typeof one === 'number' ? one : 0);
    return sumOf(first.map((one, i) => number(one) * number(second[i])));
  },
  DEVSQ: ([range]) => {
    const numbers = numbersIn(range);
    const mean = meanOf(numbers);
    return sumOf(numbers.map((one) => (one - mean) ** 2));
  },
  SLOPE: (given) => {
    const { sxx, sxy } = pairsOf(given);
    return sxy / sxx;
  },
  INTERCEPT: (given) => {
    const { mx, my, sxx, sxy } = pairsOf(given);
    return my - (sxy / sxx) * mx;
  },
  STEYX: (given) => {
    const { n, sxx, sxy, syy } = pairsOf(given);
    return Math.sqrt((syy - sxy ** 2 / sxx) / (n - 2));
  },
  // Both tails together have this probability.
  TINV: ([p, freedom]) => jstat.studentt.inv(1 - only(p) / 2, only(freedom)),
};
