import type { MixedModel } from './mixed-model.ts';

/** ln of a ratio is sought between these; at the lowest a factor is left out. */
const lowest = -12;
const highest = 12;
const mostRounds = 60;

/** Where a likelihood has its top. */
export interface Top {
  /** ln of each factor's ratio of variances to the residual's; −∞ where it is 0. */
  readonly logs: readonly number[];
  readonly likelihood: number;
}

export const ratiosOf = (logs: readonly number[]): number[] =>
  logs.map((x) => (x <= lowest ? 0 : Math.exp(x)));

/**
 * Finds the ratios one after the other, again and again, each by golden section and finer from round to round: few
 * factors, and a likelihood with one top along each.
 *
 * @param held number of a factor whose ratio stays where it is
 * @param within difference of the likelihood from round to round that ends the search
 * @param near whether the top is known to lie near the start, as on a profile a step further on
 */
export function climb(
  model: MixedModel,
  start: readonly number[],
  held: number | null,
  within = 1e-9,
  near = false,
): Top {
  const logs = [...start];
  let best = model.restrictedLogLikelihood(ratiosOf(logs));
  for (let round = 0; round < mostRounds; round++) {
    const before = best;
    for (const [f, at] of logs.entries()) {
      if (f === held) continue;
      const along = (x: number) =>
        model.restrictedLogLikelihood(ratiosOf(logs.map((own, i) => (i === f ? x : own))));
      const far = at <= lowest || (round === 0 && !near);
      const reach = far ? highest - lowest : near ? 1.5 : 4;
      const from = Math.max(lowest - 1, at - reach);
      const found = goldenTop(along, from, Math.min(highest, Math.max(at, lowest) + reach), within, round);
      const none = along(Number.NEGATIVE_INFINITY);
      const top = none >= found.value ? { at: Number.NEGATIVE_INFINITY, value: none } : found;
      if (top.value >= best) {
        logs[f] = top.at;
        best = top.value;
      }
    }
    if (round > (near ? 0 : 1) && best - before < within) break;
  }
  return { logs, likelihood: best };
}

function goldenTop(of: (x: number) => number, from: number, to: number, within: number, round: number) {
  // Near its top a likelihood falls by the square of the distance.
  const finest = Math.max(1e-7, Math.sqrt(within) / 30);
  const width = Math.max(finest, 10 ** -(round + 1));
  const part = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [from, to];
  let [a, b] = [high - part * (high - low), low + part * (high - low)];
  let [atA, atB] = [of(a), of(b)];
  while (high - low > width) {
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
  return atA >= atB ? { at: a, value: atA } : { at: b, value: atB };
}

/**
 * Where, upward or downward from a top, the likelihood has fallen so far with all other ratios at their best.
 *
 * @param f number of the factor
 * @param step of ln of its ratio, > 0 upward
 * @param fall > 0
 * @returns the ratios there; null where it does not fall so far before the end of what is sought
 */
export function fallenFrom(
  model: MixedModel,
  top: Top,
  f: number,
  step: number,
  fall: number,
): readonly number[] | null {
  let others: readonly number[] = top.logs;
  const profile = (x: number) => {
    const found = climb(
      model,
      others.map((own, i) => (i === f ? x : own)),
      f,
      1e-2,
      true,
    );
    others = found.logs;
    return top.likelihood - found.likelihood - fall;
  };
  const at = top.logs[f] ?? 0;
  let inner = Math.max(at, lowest);
  let atInner = -fall;
  let outer = inner;
  let atOuter = atInner;
  while (atOuter < 0) {
    if (outer >= highest || outer < lowest) return null;
    [inner, atInner] = [outer, atOuter];
    outer = Math.min(outer + step, highest);
    atOuter = profile(outer);
  }
  for (let i = 0; i < 12 && Math.abs(outer - inner) > 0.01; i++) {
    const between = i % 3 === 2 ? 0.5 : Math.min(0.9, Math.max(0.1, -atInner / (atOuter - atInner)));
    const x = inner + between * (outer - inner);
    const value = profile(x);
    if (value < 0) [inner, atInner] = [x, value];
    else [outer, atOuter] = [x, value];
  }
  return others.map((own, i) => (i === f ? (inner + outer) / 2 : own));
}
